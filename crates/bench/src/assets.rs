//! Style, script and letters, inside the binary. Their address has a hash of their content, so
//! that a browser may keep them for ever and never keeps an old one.

use crate::trouble::Trouble;
use axum::extract::Path;
use axum::http::HeaderValue;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use sha2::{Digest, Sha256};
use std::sync::LazyLock;

/// A file.
pub(crate) struct Asset {
    stem: &'static str,
    ending: &'static str,
    media: &'static str,
    bytes: Vec<u8>,
    /// Where it is: `/asset/bench-0123456789abcdef.css`.
    pub(crate) address: String,
}

fn asset(stem: &'static str, ending: &'static str, media: &'static str, bytes: Vec<u8>) -> Asset {
    let hash = Sha256::digest(&bytes);
    let short: String = hash.iter().take(8).map(|b| format!("{b:02x}")).collect();
    Asset { stem, ending, media, bytes, address: format!("/asset/{stem}-{short}.{ending}") }
}

/// All of them; those that name others come after these.
pub(crate) static ASSETS: LazyLock<Vec<Asset>> = LazyLock::new(|| {
    let font = "font/woff2";
    let mut all = vec![
        asset("text-400", "woff2", font, include_bytes!("../assets/text-400.woff2").to_vec()),
        asset("text-700", "woff2", font, include_bytes!("../assets/text-700.woff2").to_vec()),
        asset(
            "bench",
            "js",
            "text/javascript; charset=utf-8",
            include_bytes!("../assets/bench.js").to_vec(),
        ),
    ];
    let motion = include_bytes!("../assets/motion.js").to_vec();
    all.push(asset("motion", "js", "text/javascript; charset=utf-8", motion));
    gauging(&mut all);
    let mut style = include_str!("../assets/bench.css").to_owned();
    for a in &all {
        style = style.replace(&format!("{}.{}", a.stem, a.ending), &a.address);
    }
    all.push(asset("bench", "css", "text/css; charset=utf-8", style.into_bytes()));
    all
});

/// The gauging pages' style and script; the script's parts name one another.
fn gauging(all: &mut Vec<Asset>) {
    let script = "text/javascript; charset=utf-8";
    for (stem, text) in [
        ("gauging-figures", include_str!("../assets/gauging-figures.js")),
        ("gauging-store", include_str!("../assets/gauging-store.js")),
        ("gauging-sending", include_str!("../assets/gauging-sending.js")),
        ("gauging-keys", include_str!("../assets/gauging-keys.js")),
        ("gauging-qr", include_str!("../assets/gauging-qr.js")),
        ("gauging-scan", include_str!("../assets/gauging-scan.js")),
        ("gauging", include_str!("../assets/gauging.js")),
    ] {
        let mut text = text.to_owned();
        for a in all.iter().filter(|a| a.ending == "js") {
            text = text.replace(&format!("./{}.js", a.stem), &a.address);
        }
        all.push(asset(stem, "js", script, text.into_bytes()));
    }
    let style = include_str!("../assets/gauging.css").as_bytes().to_vec();
    all.push(asset("gauging", "css", "text/css; charset=utf-8", style));
}

/// The worker that keeps the gauging pages, told what to keep.
pub(crate) fn worker() -> String {
    let kept: Vec<&str> = ASSETS.iter().map(|a| a.address.as_str()).collect();
    let list = serde_json::json!(kept).to_string();
    include_str!("../assets/gauging-worker.js").replace("[\"ASSETS\"]", &list)
}

/// The address of a file.
pub(crate) fn address(stem: &str, ending: &str) -> &'static str {
    ASSETS
        .iter()
        .find(|a| a.stem == stem && a.ending == ending)
        .map_or("/asset/none", |a| a.address.as_str())
}

/// Serves one.
pub(crate) async fn serve(Path(name): Path<String>) -> Result<Response, Trouble> {
    let asset = ASSETS
        .iter()
        .find(|a| a.address.strip_prefix("/asset/") == Some(name.as_str()))
        .ok_or_else(|| Trouble::missing("there is no such file", ""))?;
    let headers = [
        (CONTENT_TYPE, HeaderValue::from_static(asset.media)),
        (CACHE_CONTROL, HeaderValue::from_static("public, max-age=31536000, immutable")),
    ];
    Ok((headers, asset.bytes.clone()).into_response())
}
