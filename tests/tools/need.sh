#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Looks whether what a job needs is here and installs what is missing with apt-get.
#
#   tests/tools/need.sh run|test|lint|builds|valgrind|outside|bench|fuzz|fresh...
#
# Each need is probed for itself (a command, a header the compiler finds, a package of R or
# Python, a flag that clang links with), so that what was installed in another way counts
# too. Where apt-get is absent or may not be used, the missing packages are named and nothing
# is attempted.
set -eu

CC=${CC:-cc}
case ${CC##*/} in
    *clang*) compiler=clang ;;
    *) compiler=gcc ;;
esac

# group, Debian package, probe
needs="
run $compiler command:${CC%% *}
run libc6-dev header:stdio.h
run pkg-config command:pkg-config
run libsundials-dev header:cvodes/cvodes.h
run libconfig-dev header:libconfig.h
run libgsl-dev header:gsl/gsl_roots.h
run libudunits2-dev header:udunits2.h
run libcjson-dev header:cjson/cJSON.h
run libcsv-dev header:csv.h
run gnuplot-nox command:gnuplot
test libcmocka-dev header:cmocka.h
test libxml2-utils command:xmllint
lint gcc command:gcc
lint clang command:clang
lint clang-format command:clang-format
lint clang-tidy command:clang-tidy
lint cppcheck command:cppcheck
lint shellcheck command:shellcheck
builds gcc command:gcc
builds clang command:clang
valgrind valgrind command:valgrind
outside chromium command:chromium
outside r-base-core command:Rscript
outside r-cran-desolve R:deSolve
outside r-cran-ade4 R:ade4
outside r-cran-nlme R:nlme
fuzz clang command:clang
fuzz libclang-rt-dev clang:-fsanitize=fuzzer,address,undefined
bench libcmocka-dev header:cmocka.h
bench r-base-core command:Rscript
bench r-cran-desolve R:deSolve
bench python3-scipy python:scipy
fresh git command:git
fresh debootstrap command:debootstrap
"

# One call of the preprocessor answers for all headers; without a compiler that works
# the usual folder is looked at instead.
headers_missing() {
    headers=$(cat)
    found=$(pkg-config --cflags-only-I gsl 2>/dev/null) || found= # not there yet
    flags="${CPPFLAGS-} $found"
    echo "$headers" | while read -r package header; do
        printf '#if !__has_include(<%s>)\n%s\n#endif\n' "$header" "$package"
    done | $CC $flags -E -P -x c - 2>/dev/null && return
    echo "$headers" | while read -r package header; do
        [ -e "/usr/include/$header" ] || echo "$package"
    done
}

has_r_package() {
    for library in /usr/lib/R/site-library /usr/lib/R/library /usr/local/lib/R/site-library
    do
        [ ! -d "$library/$1" ] || return 0
    done
    Rscript -e "quit(status = !requireNamespace('$1', quietly = TRUE))" >/dev/null 2>&1
}

clang_links() {
    echo 'int LLVMFuzzerTestOneInput(void) { return 0; }' |
        clang "$1" -x c - -o /dev/null 2>/dev/null
}

# Debian's packages serve Debian's interpreter, whichever python3 stands first in the path.
has_python_package() {
    /usr/bin/python3 -c "import $1" >/dev/null 2>&1
}

# Prints the packages missing for the wanted groups, one a line.
missing() {
    wanted=$(echo "$needs" | while read -r group package probe; do
        case " $groups " in
            *" $group "*) echo "$package $probe" ;;
        esac
    done)
    echo "$wanted" | sed -n 's/ header:/ /p' | headers_missing
    echo "$wanted" | while read -r package probe; do
        case $probe in
            command:*) command -v "${probe#*:}" >/dev/null 2>&1 || echo "$package" ;;
            clang:*) clang_links "${probe#*:}" || echo "$package" ;;
            R:*) has_r_package "${probe#*:}" || echo "$package" ;;
            python:*) has_python_package "${probe#*:}" || echo "$package" ;;
        esac
    done
}

# "test", "outside" and "bench" build the program too.
groups=$*
[ -n "$groups" ] || { echo "need.sh: which group?" >&2; exit 2; }
for group in $groups; do
    case $group in
        run | builds | valgrind | fresh) ;;
        test | outside | bench) groups="$groups run" ;;
        lint | fuzz) groups="$groups run test" ;;
        *) echo "need.sh: no group $group" >&2; exit 2 ;;
    esac
done

packages=$(missing | sort -u | tr '\n' ' ')
[ -n "$packages" ] || exit 0

if ! command -v apt-get >/dev/null 2>&1; then
    echo "Missing, by the names of Debian's packages: $packages" >&2
    echo "There is no apt-get here: install them in your system's own way." >&2
    exit 1
fi
if [ "$(id -u)" = 0 ]; then
    become=
elif command -v sudo >/dev/null 2>&1; then
    become=sudo
else
    echo "Missing packages: $packages" >&2
    echo "Installing them takes root or sudo: apt-get install $packages" >&2
    exit 1
fi

echo "Installing with apt-get: $packages"
apt_get() {
    $become env DEBIAN_FRONTEND=noninteractive apt-get -q "$@"
}
apt_get update || echo "The package lists could not be renewed; trying with the old." >&2
# shellcheck disable=SC2086 # one word a package
apt_get install -y --no-install-recommends $packages

left=$(missing | sort -u | tr '\n' ' ')
if [ -n "$left" ]; then
    echo "Installed, yet still not found: $left" >&2
    exit 1
fi
