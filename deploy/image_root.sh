#!/bin/sh
# Run while the image is built: carries what the service needs into an empty root, and the libraries that it loads.
#   image_root.sh ROOT PATH …
set -eu

root=$1
shift
mkdir -p "$root/usr/bin" "$root/usr/lib" "$root/etc"
ln -s usr/bin "$root/bin"
for each in lib lib64; do
  [ ! -L "/$each" ] || { mkdir -p "$root/usr/$each" && ln -s "usr/$each" "$root/$each"; }
done
mkdir -m 1777 "$root/tmp"

cp -a --parents "$@" "$root"

# What Python brings and a server never asks for.
for each in ensurepip idlelib lib2to3 pydoc_data test tkinter turtledemo; do
  rm -rf "$root"/usr/lib/python3*/"$each"
done
find "$root" -depth -type d \( -name tests -o -name __pycache__ \) -path '*python3*' -exec rm -rf {} +
find "$root" -type f \( -name '*.[ach]' -o -name '*.cpp' -o -name '*.hpp' -o -name '*.py[ix]' -o -name '*.pxd' \) -delete
# Compiled for speed, with the Python that it was made of beside it: of either, little is asked here.
find "$root" -type f \( -path '*/fontTools/*.so' -o -path '*/ezdxf/acc/*.so' \) -delete

# Every library that a program or a library in there is linked with, by the loader's own word.
find "$root" -type f \( -name '*.so*' -o -perm -u+x \) -exec ldd {} + 2>/dev/null |
  sed -n 's/^\t\(.* => \)\{0,1\}\(\/[^ ]*\) (.*/\2/p' | sort -u |
  while read -r library; do
    case $library in "$root"/*) continue ;; esac # a wheel's own
    [ -e "$root$library" ] || cp -L --parents "$library" "$root"
  done
ldconfig -r "$root" 2>/dev/null
