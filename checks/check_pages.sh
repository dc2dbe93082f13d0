#!/usr/bin/env bash
# The pages in a real browser: Debian's Chromium, driven by playwright-core, looked over by axe-core.
# Installs what is missing; exit 77 when it cannot. `checks/check_pages.sh gauging` runs one part
# (gauging, works, scan, pages, job, motion, encrypted, slow, hostile). Pictures of every page are left
# in target/pages.
set -euo pipefail
cd "$(dirname "$0")/.."
tests=crates/bench/tests/browser
not_run() { echo "NOT RUN: $*; the pages were not tested in a browser"; exit 77; }

need() { # need PACKAGE COMMAND...: one of the commands, or the Debian package
    local package=$1 command
    shift
    for command in "$@"; do command -v "$command" >/dev/null && return 0; done
    if command -v apt-get >/dev/null && [ "$(id -u)" = 0 ]; then
        { apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq "$package"; } >/dev/null 2>&1 && return 0
    fi
    not_run "$1 is missing (Debian package $package)"
}

need nodejs node
need npm npm
need chromium chromium chromium-browser
need poppler-utils pdftotext
node -e 'process.exit(Number(process.versions.node.split(".")[0]) < 18 ? 1 : 0)' || not_run "node is older than 18"
if ! (cd "$tests" && node -e 'import("playwright-core").then(() => require.resolve("axe-core"))' >/dev/null 2>&1); then
    (cd "$tests" && PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD=1 npm install --no-audit --no-fund --no-package-lock --silent) ||
        not_run "npm could not install playwright-core and axe-core"
fi
program=${PINCHBAR:-target/debug/pinchbar}
[ -x "$program" ] || { echo "$program is not built: cargo build -p pinchbar --features book/postgres,pinchbar/postgres,pinchbar/bench"; exit 2; }
rm -rf target/pages
exec node "$tests/main.mjs" "$@"
