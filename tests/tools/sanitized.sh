#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Runs a command whose programs were built with the sanitizers, and says truly whether
# leaks were looked for: finding them takes ptrace, which some sandboxes forbid.
#
#   tests/tools/sanitized.sh COMMAND...
set -eu

probe=$(mktemp -d)
trap 'rm -rf "$probe"' EXIT

# Two programs, one of which leaks: finding leaks works if just that one is told on.
echo 'void *malloc(unsigned long); void *volatile keep; int main(void) { keep = malloc(37); keep = 0; }' \
    >"$probe/leaks.c"
echo 'int main(void) { return 0; }' >"$probe/clean.c"
for name in leaks clean; do
    ${CC:-cc} -g -fsanitize=address "$probe/$name.c" -o "$probe/$name"
done
leaks=0
if ASAN_OPTIONS=detect_leaks=1 "$probe/clean" 2>/dev/null &&
    ! ASAN_OPTIONS=detect_leaks=1 "$probe/leaks" 2>/dev/null; then
    leaks=1
fi

# Address space of the sanitizers is not memory that a limit on it should count.
ASAN_OPTIONS=detect_leaks=$leaks:strict_string_checks=1:detect_stack_use_after_return=1
UBSAN_OPTIONS=print_stacktrace=1
LSAN_OPTIONS=print_suppressions=0
LIMIT_S=${LIMIT_S:-300}
export ASAN_OPTIONS UBSAN_OPTIONS LSAN_OPTIONS LIMIT_S

if "$@"; then status=0; else status=$?; fi
[ $leaks = 1 ] || echo "Leaks were NOT looked for: the leak sanitizer cannot work here."
exit $status
