//! A certificate authority of the shop's own, made on first run, and the certificate of this
//! machine that it signs.
//!
//! The authority's key stays in one folder on this machine, readable by its owner alone. The
//! authority's own certificate says that it may sign for private addresses and local names only
//! (name constraints, RFC 5280 section 4.2.1.10), so that a phone which trusts it does not trust it
//! for anything on the internet, should the key ever be stolen. What is trusted is said on the page
//! `/trust`.

use rcgen::{
    BasicConstraints, CertificateParams, CidrSubnet, DistinguishedName, DnType,
    ExtendedKeyUsagePurpose, GeneralSubtree, IsCa, Issuer, KeyPair, KeyUsagePurpose,
    NameConstraints, PublicKeyData, date_time_ymd,
};
use sha2::{Digest, Sha256};
use std::fs;
use std::io::Write as _;
use std::net::IpAddr;
use std::path::Path;

/// Why there is no certificate.
#[derive(Debug, thiserror::Error)]
#[error("the certificate: {what}")]
pub struct CertificateError {
    what: String,
}

/// What an encrypted server needs.
#[derive(Clone)]
pub struct Certificate {
    /// This machine's certificate.
    pub(crate) chain_pem: String,
    /// Its key.
    pub(crate) key_pem: String,
    /// The authority's certificate, for phones to take.
    pub authority_pem: String,
}

impl std::fmt::Debug for Certificate {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Certificate")
    }
}

fn wrong(what: impl std::fmt::Display) -> CertificateError {
    CertificateError { what: what.to_string() }
}

/// Ten years, for an authority is a nuisance to hand round.
const AUTHORITY_DAYS: i64 = 3652;
/// Phones refuse a certificate of a machine that lasts longer than 825 days (Apple, requirements
/// for trusted certificates, from memory); a new one is made every time the bench starts.
const MACHINE_DAYS: i64 = 398;

/// Endings of names that lead nowhere on the internet: RFC 6762 (local), RFC 8375 (home.arpa),
/// RFC 6761 (localhost, test), and `lan` and `internal` as routers give them out (common practice;
/// `internal` is reserved for it since 2024, from memory).
const LOCAL_NAMES: [&str; 6] = ["local", "home.arpa", "localhost", "test", "lan", "internal"];
/// Private and link-local networks: RFC 1918, RFC 3927, RFC 4193, RFC 4291, and this machine.
const LOCAL_NETWORKS: [(&str, u8); 8] = [
    ("10.0.0.0", 8),
    ("172.16.0.0", 12),
    ("192.168.0.0", 16),
    ("169.254.0.0", 16),
    ("127.0.0.0", 8),
    ("fc00::", 7),
    ("fe80::", 10),
    ("::1", 128),
];

impl Certificate {
    /// The authority in `folder`, made if there is none, and a fresh certificate of this machine
    /// under `names`: host names and addresses, without port.
    ///
    /// # Errors
    /// A name or address that is not local, or the folder cannot be written or read.
    pub fn in_folder(
        folder: &Path,
        names: &[String],
        now: jiff::Timestamp,
    ) -> Result<Certificate, CertificateError> {
        if let Some(name) = names.iter().find(|n| !is_local(n)) {
            return Err(wrong(format!(
                "\"{name}\" is not a local name or address; the shop's own authority signs for those only (names ending in {})",
                LOCAL_NAMES.join(", ")
            )));
        }
        let (cert_file, key_file) = (folder.join("authority.pem"), folder.join("authority.key"));
        if !key_file.exists() || !cert_file.exists() {
            make_authority(folder, &cert_file, &key_file, now)?;
        }
        let read = |file: &Path| {
            fs::read_to_string(file).map_err(|e| wrong(format!("{}: {e}", file.display())))
        };
        let (authority_pem, key_pem) = (read(&cert_file)?, read(&key_file)?);
        let key = KeyPair::from_pem(&key_pem).map_err(wrong)?;
        let authority = Issuer::new(authority_params(&key, now)?, key);
        let mut params = CertificateParams::new(names.to_vec()).map_err(wrong)?;
        params.distinguished_name = named("Pinchbar bench");
        params.extended_key_usages = vec![ExtendedKeyUsagePurpose::ServerAuth];
        params.key_usages = vec![KeyUsagePurpose::DigitalSignature];
        params.use_authority_key_identifier_extension = true;
        let (from, until) = (day(now, -1)?, day(now, MACHINE_DAYS)?);
        params.not_before = date_time_ymd(from.0, from.1, from.2);
        params.not_after = date_time_ymd(until.0, until.1, until.2);
        let machine_key = KeyPair::generate().map_err(wrong)?;
        let cert = params.signed_by(&machine_key, &authority).map_err(wrong)?;
        Ok(Certificate {
            chain_pem: cert.pem(),
            key_pem: machine_key.serialize_pem(),
            authority_pem,
        })
    }
}

/// SHA-256 of a certificate (PEM, RFC 7468) in pairs of hexadecimal figures, as phones and browsers show
/// it: what is compared before it is trusted. Empty for a text that is no certificate.
pub fn fingerprint(pem: &str) -> String {
    let body: String = pem
        .lines()
        .skip_while(|l| !l.starts_with("-----BEGIN CERTIFICATE"))
        .skip(1)
        .take_while(|l| !l.starts_with("-----END"))
        .collect();
    match from_base64(body.trim()) {
        Some(der) if !der.is_empty() => {
            let pairs: Vec<String> =
                Sha256::digest(&der).iter().map(|b| format!("{b:02X}")).collect();
            pairs.join(":")
        }
        _ => String::new(),
    }
}

/// RFC 4648, section 4.
fn from_base64(text: &str) -> Option<Vec<u8>> {
    let mut out = Vec::with_capacity(text.len() * 3 / 4);
    let (mut bits, mut held) = (0u32, 0u32);
    for b in text.trim_end_matches('=').bytes() {
        let value = match b {
            b'A'..=b'Z' => b - b'A',
            b'a'..=b'z' => b - b'a' + 26,
            b'0'..=b'9' => b - b'0' + 52,
            b'+' => 62,
            b'/' => 63,
            _ => return None,
        };
        bits = bits << 6 | u32::from(value);
        held += 6;
        if 8 <= held {
            held -= 8;
            out.push(u8::try_from((bits >> held) & 0xFF).ok()?);
        }
    }
    Some(out)
}

/// Whether a name or address leads to the shop's own network.
fn is_local(name: &str) -> bool {
    match name.parse::<IpAddr>() {
        Ok(IpAddr::V4(a)) => a.is_private() || a.is_loopback() || a.is_link_local(),
        Ok(IpAddr::V6(a)) => a.is_loopback() || a.is_unique_local() || a.is_unicast_link_local(),
        Err(_) => LOCAL_NAMES.iter().any(|end| {
            name.eq_ignore_ascii_case(end)
                || name.to_ascii_lowercase().ends_with(&format!(".{end}"))
        }),
    }
}

fn named(name: &str) -> DistinguishedName {
    let mut dn = DistinguishedName::new();
    dn.push(DnType::CommonName, name);
    dn
}

fn authority_params(
    key: &KeyPair,
    now: jiff::Timestamp,
) -> Result<CertificateParams, CertificateError> {
    let mut params = CertificateParams::default();
    // Two sheds' authorities must be told apart by a phone that takes both.
    let hash = Sha256::digest(key.der_bytes());
    let mark: String = hash.iter().take(4).map(|b| format!("{b:02x}")).collect();
    params.distinguished_name = named(&format!("Pinchbar workshop authority {mark}"));
    params.is_ca = IsCa::Ca(BasicConstraints::Constrained(0));
    params.key_usages = vec![KeyUsagePurpose::KeyCertSign, KeyUsagePurpose::CrlSign];
    let mut permitted: Vec<GeneralSubtree> =
        LOCAL_NAMES.iter().map(|n| GeneralSubtree::DnsName((*n).to_owned())).collect();
    for (network, prefix) in LOCAL_NETWORKS {
        let address: IpAddr = network.parse().map_err(wrong)?;
        permitted.push(GeneralSubtree::IpAddress(CidrSubnet::from_addr_prefix(address, prefix)));
    }
    params.name_constraints =
        Some(NameConstraints { permitted_subtrees: permitted, excluded_subtrees: Vec::new() });
    let (from, until) = (day(now, -1)?, day(now, AUTHORITY_DAYS)?);
    params.not_before = date_time_ymd(from.0, from.1, from.2);
    params.not_after = date_time_ymd(until.0, until.1, until.2);
    Ok(params)
}

fn make_authority(
    folder: &Path,
    cert_file: &Path,
    key_file: &Path,
    now: jiff::Timestamp,
) -> Result<(), CertificateError> {
    let at = |e: std::io::Error| wrong(format!("{}: {e}", folder.display()));
    fs::create_dir_all(folder).map_err(at)?;
    let key = KeyPair::generate().map_err(wrong)?;
    let cert = authority_params(&key, now)?.self_signed(&key).map_err(wrong)?;
    let mut options = fs::OpenOptions::new();
    options.write(true).create(true).truncate(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt as _;
        options.mode(0o600);
    }
    let mut file = options.open(key_file).map_err(at)?;
    file.write_all(key.serialize_pem().as_bytes()).and_then(|()| file.sync_all()).map_err(at)?;
    fs::write(cert_file, cert.pem()).map_err(at)
}

/// Year, month and day so many days from now.
fn day(now: jiff::Timestamp, days: i64) -> Result<(i32, u8, u8), CertificateError> {
    let then = now
        .checked_add(jiff::SignedDuration::from_hours(24 * days))
        .map_err(wrong)?
        .to_zoned(jiff::tz::TimeZone::UTC)
        .date();
    let small = |n: i8| u8::try_from(n).map_err(wrong);
    Ok((i32::from(then.year()), small(then.month())?, small(then.day())?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn base64_is_read() {
        // RFC 4648, section 10.
        for (text, wanted) in
            [("", ""), ("Zg==", "f"), ("Zm8=", "fo"), ("Zm9v", "foo"), ("Zm9vYmFy", "foobar")]
        {
            assert_eq!(from_base64(text).as_deref(), Some(wanted.as_bytes()), "{text}");
        }
        assert_eq!(from_base64("Zm9v!"), None);
        assert_eq!(fingerprint("not a certificate"), "");
    }

    #[test]
    fn an_authority_is_made_once_and_signs_for_local_names_only() {
        let folder = tempfile::tempdir().expect("a folder");
        let now = "2026-11-20T08:00:00Z".parse().expect("an instant");
        let names = ["192.168.1.20".to_owned(), "shed.local".to_owned()];
        let first = Certificate::in_folder(folder.path(), &names, now).expect("signs");
        let again = Certificate::in_folder(folder.path(), &names, now).expect("signs");
        assert_eq!(first.authority_pem, again.authority_pem);
        assert_ne!(first.key_pem, again.key_pem);
        for name in ["example.org", "8.8.8.8", "local.example.org", "notlocal", ""] {
            assert!(Certificate::in_folder(folder.path(), &[name.to_owned()], now).is_err());
        }
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt as _;
            let mode =
                fs::metadata(folder.path().join("authority.key")).expect("there").permissions();
            assert_eq!(mode.mode() & 0o077, 0, "for its owner alone");
        }
    }
}
