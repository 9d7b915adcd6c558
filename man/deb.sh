#!/bin/sh
# Makes a Debian package of what is built: man/deb.sh BUILD VERSION RELEASED.
# It holds what `make install` installs, README, licence and the demo.
set -eu
cd "$(dirname "$0")/.."
build=$1
version=$2
released=$3
root=$build/deb/root
meta=$build/deb/debian
doc=$root/usr/share/doc/padside

for tool in dpkg-deb dpkg-shlibdeps; do
	command -v $tool >/dev/null 2>&1 || { echo "make deb needs $tool (package dpkg-dev)" >&2; exit 1; }
done
rm -rf "$build/deb"
umask 022
make -s BUILD="$build" install DESTDIR="$PWD/$root" PREFIX=/usr INSTALL_PROGRAM='install -s'
find "$root/usr/share/man" -type f -exec gzip -9n {} +
mkdir -p "$doc/examples" "$meta" "$root/DEBIAN"
cp demo/book.ndjson demo/prices.csv "$doc/examples/"
cp README.md "$doc/"
{
	echo "Format: https://www.debian.org/doc/packaging-manuals/copyright-format/1.0/"
	echo "Upstream-Name: padside"
	echo
	echo "Files: *"
	sed -n 's/^Copyright (c) /Copyright: /p' LICENSE | head -n 1
	echo "License: Expat"
	sed -n '/^Permission/,$p' LICENSE | sed 's/^$/./; s/^/ /'
} >"$doc/copyright"
{
	echo "padside ($version) unstable; urgency=medium"
	echo
	echo "  * Release $version."
	echo
	echo " -- padside maintainers <maintainers@padside.invalid>  $(LC_ALL=C date -u -R -d "$released")"
} | gzip -9n >"$doc/changelog.gz"

# dpkg-shlibdeps reads a source package's control file.
printf 'Source: padside\n\nPackage: padside\nArchitecture: any\n' >"$meta/control"
needs=$(cd "$build/deb" && dpkg-shlibdeps -O root/usr/bin/padside 2>/dev/null |
	sed -n 's/^shlibs:Depends=//p')
cat >"$root/DEBIAN/control" <<CONTROL
Package: padside
Version: $version
Architecture: $(dpkg --print-architecture)
Maintainer: padside maintainers <maintainers@padside.invalid>
Installed-Size: $(du -k -s "$root/usr" | cut -f1)
Depends: $needs
Recommends: libpq5
Section: misc
Priority: optional
Description: workbook for a cooling service call
 A full-screen terminal workbook for the technician on a "no cooling" call.
 It keeps every reading, works out what the readings mean, ranks what is
 wrong, names the next reading to take, and writes the service report.
CONTROL
(cd "$root" && find usr -type f -exec md5sum {} + | sort -k 2) >"$root/DEBIAN/md5sums"
package=$build/padside_${version}_$(dpkg --print-architecture).deb
SOURCE_DATE_EPOCH=$(date -u -d "$released" +%s) dpkg-deb --root-owner-group --build "$root" "$package" >/dev/null
echo "$package"
