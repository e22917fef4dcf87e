# Sourced by deploy/serve and tests/run: brings a machine to where their Python can start.
# shellcheck shell=bash

say() { printf '%s\n' "$*"; }

fail() {
  printf '%s\n' "$*" >&2
  exit 1
}

# Runs a command that may need the network up to three times; shows its output only if all fail.
persist() {
  local log pause
  log=$(mktemp)
  for pause in 3 10 0; do
    if "$@" >"$log" 2>&1; then
      rm -f "$log"
      return 0
    fi
    ((pause == 0)) || { say "That did not work; trying again in $pause s."; sleep "$pause"; }
  done
  tail -n 20 "$log" >&2
  rm -f "$log"
  return 1
}

# Where a browser on this machine finds what listens at HOST:PORT.
address_of() {
  case $1 in
    unix:*) printf '%s\n' "$1" ;;
    0.0.0.0:* | \[::\]:*) printf 'http://127.0.0.1:%s/\n' "${1##*:}" ;;
    *) printf 'http://%s/\n' "$1" ;;
  esac
}

is_for_this_machine_alone() {
  case $1 in
    unix:* | localhost:* | 127.* | \[::1\]:*) return 0 ;;
    *) return 1 ;;
  esac
}

has_python() { command -v python3 >/dev/null; }

# Asks the loader, not the package manager: the library may have come by any road.
has_cairo() {
  if has_python; then
    python3 -c 'import ctypes; ctypes.CDLL("libcairo.so.2")' 2>/dev/null
  else
    PATH=$PATH:/usr/sbin:/sbin ldconfig -p | grep 'libcairo\.so\.2 ' >/dev/null
  fi
}

has_ensurepip() { python3 -c 'import ensurepip, venv' 2>/dev/null; }

# A pip of the machine's own can fill a venv that has none, from 22.3 on.
has_own_pip() { python3 -m pip --python "$(command -v python3)" --version >/dev/null 2>&1; }

missing_packages() {
  has_python || echo python3
  has_ensurepip || has_own_pip || echo python3-venv
  has_cairo || echo libcairo2
}

refuse_old_python() {
  ! has_python || python3 -c 'import sys; sys.exit(sys.version_info < (3, 11))' ||
    fail "Python 3.11 or newer is needed, and $(python3 -V) is too old: Debian 12 and Ubuntu 24.04 bring one that will do."
}

can_be_root() { ((EUID == 0)) || { command -v sudo && sudo -n true; } >/dev/null 2>&1; }

as_root() { if ((EUID == 0)); then "$@"; else sudo -n "$@"; fi; }

# A list that cannot be refreshed is no reason to stop: the packages may come from another.
apt_install() {
  as_root apt-get update || true
  as_root env DEBIAN_FRONTEND=noninteractive apt-get -o DPkg::Lock::Timeout=300 \
    install -y --no-install-recommends "$@"
}

ensure_packages() {
  local missing
  refuse_old_python
  mapfile -t missing < <(missing_packages)
  ((${#missing[@]})) || return 0
  command -v apt-get >/dev/null ||
    fail "This machine has no apt-get, so please install what Debian calls ${missing[*]} and start this again."
  can_be_root ||
    fail "Please ask the administrator for 'apt-get install ${missing[*]}' and start this again."
  say "Installing ${missing[*]} with apt-get."
  persist apt_install "${missing[@]}" ||
    fail "apt-get could not install ${missing[*]}: what it said is above."
  refuse_old_python
}

# The browser, and the library that what drives it needs.
has_browser() { command -v chromium >/dev/null && python3 -c 'import ctypes; ctypes.CDLL("libatomic.so.1")' 2>/dev/null; }

# Good to have: goes on without it where it cannot be had.
wish_for_browser() {
  local wanted=(chromium fonts-dejavu-core libatomic1)
  ! has_browser || return 0
  if ! command -v apt-get >/dev/null || ! can_be_root; then
    say "chromium is not all installed and cannot be from here: the tests that need it are left out."
    return 0
  fi
  say "Installing ${wanted[*]} with apt-get."
  persist apt_install "${wanted[@]}" || say "chromium could not be installed: the tests that need it are left out."
}

make_venv() {
  if has_ensurepip; then
    python3 -m venv --clear "$1"
  else
    python3 -m venv --clear --without-pip "$1"
  fi
}

pip_of() {
  local venv=$1
  shift
  if [[ -x $venv/bin/pip ]]; then
    "$venv/bin/python" -m pip "$@"
  else
    python3 -m pip --python "$venv/bin/python" "$@"
  fi
}

# Makes the venv hold exactly what the lock names; does nothing when it already does.
ensure_venv() {
  local venv=$1 lock=$2 stamp
  stamp="$(sha256sum <"$lock") $(python3 -V) $venv"
  if [[ -x $venv/bin/python && -f $venv/stamp && $(<"$venv/stamp") == "$stamp" ]]; then
    return 0
  fi
  { mkdir -p "$venv" && [[ -w $venv ]]; } 2>/dev/null ||
    fail "This needs to write to $venv and may not: start it in a checkout of your own."
  say "Installing the locked Python packages into ${venv#"$PWD"/}; the first time takes a minute or two."
  make_venv "$venv"
  persist pip_of "$venv" install --disable-pip-version-check --no-input \
    --require-hashes --only-binary :all: -r "$lock" ||
    fail "The locked Python packages could not be installed: what pip said is above. Is its package index in reach?"
  printf '%s\n' "$stamp" >"$venv/stamp"
}
