#!/bin/sh
# Draws the program's icons from newel.svg (needs ImageMagick with rsvg).
set -eu
cd "$(dirname "$0")"
for size in 32 128 512; do
  name="${size}x${size}.png"
  [ "$size" = 512 ] && name=icon.png
  convert -background none -density 300 newel.svg -resize "${size}x${size}" -depth 8 -define png:color-type=6 -strip "$name"
done
