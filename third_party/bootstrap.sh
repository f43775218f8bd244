#!/bin/sh
# Sets the project up on Debian 12 and runs it.
#   sh third_party/bootstrap.sh demo       install what building needs, build, check the demo plan
#   sh third_party/bootstrap.sh test       install what testing needs, build, run all tests
#   sh third_party/bootstrap.sh packages [GROUP ...]   install only (build, test, bench, clang; default build)
set -eu

root=$(cd "$(dirname "$0")/.." && pwd)
cd "$root"

say() { printf '%s\n' "$*"; }
fail() { printf 'bootstrap: %s\n' "$*" >&2; exit 1; }

# The packages of the groups named, one a line, each once.
packages_of() {
  for group in "$@"; do
    sed -n "s/^$group //p" third_party/packages.txt
  done | sort -u
}

is_installed() {
  [ "$(dpkg-query -W -f='${db:Status-Status}' "$1" 2>/dev/null)" = installed ]
}

as_root() {
  if [ "$(id -u)" -eq 0 ]; then
    "$@"
  elif command -v sudo >/dev/null 2>&1; then
    sudo "$@"
  else
    fail "installing packages needs root: run this as root, or install sudo, or ask for: $*"
  fi
}

# Installs what is missing of the groups named; says nothing where nothing is.
install_packages() {
  command -v dpkg-query >/dev/null 2>&1 ||
    fail "this script knows Debian 12 only; third_party/README.md lists the libraries to install by hand"
  missing=
  for package in $(packages_of "$@"); do
    is_installed "$package" || missing="$missing $package"
  done
  [ -n "$missing" ] || return 0
  say "Installing Debian packages:$missing"
  as_root apt-get -o DPkg::Lock::Timeout=300 -qq update
  # shellcheck disable=SC2086 # a list of names
  as_root env DEBIAN_FRONTEND=noninteractive apt-get -o DPkg::Lock::Timeout=300 -qq -y \
    install --no-install-recommends $missing >/dev/null
}

# Configures and builds a preset.
build() {
  say "Building ($1) ..."
  configured=$(cmake --preset "$1" 2>&1) || fail "$configured"
  cmake --build --preset "$1"
}

run_demo() {
  install_packages build
  build release
  build/release/viewer/petalproof check assets/plans/demo.toml --pictures build/demo
  say ""
  say "Marked pictures and the wall map: build/demo"
}

run_tests() {
  install_packages build test
  build release-tests
  ctest --preset release-tests --parallel "$(nproc)"
  build sanitize
  ctest --preset sanitize --parallel "$(nproc)"
}

verb=${1:-help}
[ $# -eq 0 ] || shift
case $verb in
  demo) run_demo ;;
  test) run_tests ;;
  packages) install_packages "${@:-build}" ;;
  *)
    sed -n 's/^#   //p' "$0"
    [ "$verb" = help ] || exit 2
    ;;
esac
