//! CRC-32 as in PNG (third edition, annex D) and ZIP.

/// Of these bytes.
pub(crate) fn crc(bytes: &[u8]) -> u32 {
    const TABLE: [u32; 256] = table();
    !bytes.iter().fold(u32::MAX, |c, byte| TABLE[usize::from((c as u8) ^ byte)] ^ (c >> 8))
}

const fn table() -> [u32; 256] {
    let mut table = [0u32; 256];
    let mut n = 0;
    while n < 256 {
        let mut c = n as u32;
        let mut bit = 0;
        while bit < 8 {
            c = if c & 1 == 1 { 0xEDB8_8320 ^ (c >> 1) } else { c >> 1 };
            bit += 1;
        }
        table[n] = c;
        n += 1;
    }
    table
}

#[cfg(test)]
mod tests {
    /// The check value of CRC-32/ISO-HDLC, "123456789" (from memory), and the IEND chunk of every
    /// PNG, whose CRC the PNG specification prints as AE 42 60 82 (from memory).
    #[test]
    fn check_values() {
        assert_eq!(super::crc(b"123456789"), 0xCBF4_3926);
        assert_eq!(super::crc(b"IEND"), 0xAE42_6082);
    }
}
