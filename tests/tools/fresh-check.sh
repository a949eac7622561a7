#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Proves the README on a bare Debian: makes a minimal root of its own with debootstrap,
# puts the last commit in, and types the lines of README.md that follow the mark
# "<!-- fresh-check -->" (the next ```sh block), one after the other.
#
#   tests/tools/fresh-check.sh [RELEASE]
#
# As root. RELEASE is Debian's name for one: bookworm (12) unless given, trixie (13).
# FRESH_ROOT says where (default build/fresh-RELEASE). The root gets this machine's
# package sources, of that release, and its proxies. KEEP=1 leaves it standing.
set -eu

suite=${1:-bookworm}
root=${FRESH_ROOT:-build/fresh-$suite}
log=${root%/}.log

# Mounts and processes live in a namespace of their own, so none outlives this script,
# however it ends.
if [ "${2-}" != --inside ]; then
    [ "$(id -u)" = 0 ] || { echo "fresh-check needs root: a root folder is made" >&2; exit 1; }
    exec unshare --mount --pid --fork --kill-child "$0" "$suite" --inside
fi

lines=$(awk '
    /<!-- fresh-check -->/ { marked = 1 }
    marked && /^```/ { if (inside) exit; inside = 1; next }
    inside && NF' README.md)
[ -n "$lines" ] || { echo "README.md has no marked \`\`\`sh block" >&2; exit 1; }

# mirrors: "URI SUITE COMPONENT" for each of Debian's archives this machine asks, with the
# wanted release in place of its own.
here=$(sed -n 's/^VERSION_CODENAME=//p' /etc/os-release)
mirrors=$(apt-get indextargets --format '$(REPO_URI) $(RELEASE) $(COMPONENT)' \
    'Created-By: Packages' 2>/dev/null | awk -v here="$here" -v s="$suite" '
    $2 ~ "^" here "(-|$)" && $3 == "main" { sub("^" here, s, $2); print }')
mirror=$(echo "$mirrors" | awk -v s="$suite" '$2 == s { print $1; exit }')

mkdir -p "$(dirname "$root")"
rm -rf --one-file-system "$root"
[ -n "${KEEP-}" ] || trap 'umount -l "$root/proc" "$root/dev/pts" 2>/dev/null; rm -rf --one-file-system "$root"' EXIT

echo "Making a bare $suite in $root (log: $log)"
# shellcheck disable=SC2086 # no mirror is no argument
debootstrap --variant=minbase "$suite" "$root" $mirror >"$log" 2>&1 || { tail -20 "$log"; exit 1; }
[ -z "$mirrors" ] || echo "$mirrors" | sed 's/^/deb /' >"$root/etc/apt/sources.list"
apt-config dump | sed -nE '/^Acquire::(https?|Retries|ForceIPv|Check-)/p' \
    >"$root/etc/apt/apt.conf.d/90machine"
for file in /etc/resolv.conf /etc/hosts; do
    [ ! -e $file ] || cat $file >"$root$file"
done
mount -t proc proc "$root/proc"
mount -t devpts devpts "$root/dev/pts" || echo "no terminals in $root: devpts cannot be mounted"
mkdir "$root/root/pailcast"
git archive HEAD | tar -x -C "$root/root/pailcast"

passed=0
failed=0
echo "$lines" >"$root/root/lines"
while read -r line <&3; do
    echo "Typing: $line"
    begin=$(date +%s)
    if env -i HOME=/root PATH=/usr/sbin:/usr/bin:/sbin:/bin \
        ${http_proxy:+http_proxy="$http_proxy"} ${https_proxy:+https_proxy="$https_proxy"} \
        chroot "$root" sh -c "cd /root/pailcast && $line" >"$log.line" 2>&1 </dev/null; then
        passed=$((passed + 1))
        result=worked
    else
        failed=$((failed + 1))
        result=FAILED
    fi
    cat "$log.line" >>"$log"
    tail -n "$([ $result = worked ] && echo 6 || echo 60)" "$log.line" | sed 's/^/    /'
    rm -f "$log.line"
    echo "$result after $(($(date +%s) - begin)) s"
done 3<"$root/root/lines"

echo "$passed passed, $failed failed"
[ $failed -eq 0 ]
