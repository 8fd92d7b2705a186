# prepare.sh - what simulator/demo, tests/run and .ci/run share: packages, rights, the build.
#
# Sourced, POSIX sh. The caller sets ROOT (the clone, absolute) and PROGRAM (its own path below
# ROOT, also used in messages; INTERPRETER where that is not sh). Only apt-get is ever run with more rights than the caller has.
# shellcheck shell=sh disable=SC2034

PACKAGES_DEMO="gcc libc6-dev cmake ninja-build pkgconf libmodbus-dev libyaml-dev libjansson-dev
    libsqlite3-dev libsodium-dev libsystemd-dev"
PACKAGES_TESTS="$PACKAGES_DEMO check jq netcat-openbsd"

say()
{
    printf '%s: %s\n' "${PROGRAM##*/}" "$*"
}

# fail SENTENCE...: each argument is a line; what is wrong first, then what to do.
fail()
{
    for line in "$@"; do
        printf '%s: %s\n' "${PROGRAM##*/}" "$line" >&2
    done
    exit 1
}

packages_missing()
{
    for package in "$@"; do
        [ "$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null)" = installed ] ||
            printf ' %s' "$package"
    done
}

# Sets APT to the command that may install; returns 1 without any sudo, ends when sudo refuses.
rights_find()
{
    if [ "$(id -u)" = 0 ]; then
        APT="env DEBIAN_FRONTEND=noninteractive apt-get"
    elif ! command -v sudo >/dev/null 2>&1; then
        return 1
    elif sudo -n DEBIAN_FRONTEND=noninteractive apt-get --version >/dev/null 2>&1; then
        APT="sudo -n DEBIAN_FRONTEND=noninteractive apt-get"
    elif sudo -n apt-get --version >/dev/null 2>&1; then
        APT="sudo -n apt-get"
    else
        say "sudo may ask for your password; it is used for apt-get alone"
        sudo apt-get --version >/dev/null ||
            fail "You may not use sudo, or the password was wrong; nothing was installed." \
                "Let root do once: apt-get update && apt-get install --no-install-recommends$missing" \
                "Then call sh $PROGRAM again."
        APT="sudo apt-get"
        ! sudo -n DEBIAN_FRONTEND=noninteractive apt-get --version >/dev/null 2>&1 ||
            APT="sudo DEBIAN_FRONTEND=noninteractive apt-get"
    fi
}

packages_refuse()
{
    printf '%s\n' "$2" | tail -n 15 >&2
    fail "These Debian packages are missing and could not be installed:$1" \
        "Most often there is no network, no rights, or an outdated /etc/apt/sources.list." \
        "Once as root: apt-get update && apt-get install --no-install-recommends$1" \
        "Then call sh $PROGRAM again."
}

# packages_install NAME...: does nothing, and asks for no rights, when all are there.
packages_install()
{
    missing=$(packages_missing "$@")
    [ -n "$missing" ] || return 0
    if ! command -v apt-get >/dev/null 2>&1; then
        say "this is no Debian system, so nothing is installed; needed are what Debian calls: $*"
        return 0
    fi
    say "installing from Debian (this can take some minutes):$missing"
    rights_find || fail "These Debian packages are missing:$missing" \
        "You are not root and there is no sudo here." \
        "Let root do once: apt-get update && apt-get install --no-install-recommends$missing"
    # An old index names versions that the mirror no longer has; a failed refresh may still do.
    # shellcheck disable=SC2086
    refreshed=$($APT update -q -o DPkg::Lock::Timeout=120 2>&1 </dev/null) ||
        say "the package index could not be refreshed; trying with the old one"
    # shellcheck disable=SC2086
    installed=$($APT install -y -q --no-install-recommends -o DPkg::Lock::Timeout=120 $missing \
        2>&1 </dev/null) || packages_refuse "$missing" "$refreshed
$installed"
    missing=$(packages_missing "$@")
    [ -z "$missing" ] || packages_refuse "$missing" "$installed"
}

# build_check: ends when something in build/ belongs to somebody else and its owner-to-be may not
# write to it, as after a call with sudo. Root looks with the eyes of the clone's owner.
build_check()
{
    [ -e "$ROOT/build" ] || return 0
    owner=$(stat -c %u "$ROOT")
    eyes=""
    if [ "$(id -u)" = 0 ]; then
        [ "$owner" = 0 ] || eyes="setpriv --reuid=$owner --regid=$(stat -c %g "$ROOT") --clear-groups"
    elif [ "$(id -u)" != "$owner" ]; then
        return 0 # owner_become says what is wrong with the whole clone
    fi
    # A folder that cannot be entered is the one that is printed; find's own complaint adds nothing.
    foreign=$($eyes find "$ROOT/build" ! -type l ! -user "$owner" ! -writable -print -quit 2>/dev/null)
    [ -z "$foreign" ] || fail \
        "$foreign belongs to $(stat -c %U "$foreign" 2>/dev/null || echo "somebody else"), and $(stat -c %U "$ROOT"), who owns this clone, may not write to it." \
        "Remove the folder: sudo rm -rf '$ROOT/build'" \
        "or take it back: sudo chown -R $owner '$ROOT/build'; then call sh $PROGRAM again."
}

# owner_become ARGUMENT...: root gives its rights up and starts the program again as the owner of
# the clone, so that nothing in the clone ever belongs to root by accident. Returns when there is
# nothing to give up.
owner_become()
{
    owner=$(stat -c %u "$ROOT")
    if [ "$(id -u)" != 0 ] || [ "$owner" = 0 ]; then
        mkdir -p "$ROOT/build" 2>/dev/null
        [ -w "$ROOT/build" ] || fail "You ($(id -un)) may not write to $ROOT/build." \
            "Call this as the clone's owner, $(stat -c %U "$ROOT"), or make a clone of your own;" \
            "if only build/ belongs to somebody else, remove it."
        return 0
    fi
    entry=$(getent passwd "$owner") || entry="user$owner:x:$owner:$(stat -c %g "$ROOT")::/tmp:/bin/sh"
    name=${entry%%:*}
    group=$(printf '%s' "$entry" | cut -d: -f4)
    home=$(printf '%s' "$entry" | cut -d: -f6)
    groups=--init-groups
    getent passwd "$owner" >/dev/null || groups=--clear-groups
    say "going on as $name, who owns this clone"
    cd "$ROOT" || fail "$ROOT cannot be entered."
    exec setpriv --reuid="$owner" --regid="$group" "$groups" \
        env -u TMPDIR -u XDG_RUNTIME_DIR HOME="$home" USER="$name" LOGNAME="$name" \
        "${INTERPRETER:-sh}" "$ROOT/$PROGRAM" "$@"
}

# build_make NAME OPTION...: configure and build into build/NAME; quiet unless it fails.
build_make()
{
    build=$ROOT/build/$1
    build_name=$1
    shift
    # A clone that was moved or copied with its build/ cannot use the old one.
    if [ -f "$build/CMakeCache.txt" ] && ! grep -qxF "CMAKE_HOME_DIRECTORY:INTERNAL=$ROOT" "$build/CMakeCache.txt"
    then
        rm -rf "$build"
    fi
    mkdir -p "$build" || fail "The folder build/$build_name cannot be made; see the message above."
    say "building into build/$build_name (the log is build/$build_name/build.log)"
    if ! { cmake -S "$ROOT" -B "$build" -G Ninja "$@" && cmake --build "$build" -j "$(nproc)"; } \
        >"$build/build.log" 2>&1 </dev/null
    then
        grep -E 'error:|Error|is missing|^FAILED|undefined reference' "$build/build.log" | head -n 30 >&2
        fail "The build failed; the lines above are from build/$build_name/build.log." \
            "If a library is missing, the line names its Debian package."
    fi
}
