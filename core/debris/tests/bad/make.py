#!/usr/bin/env python3
"""Made the pictures of this folder, which `tests/bad_input.rs` reads: Pillow 13.0 with
libjpeg-turbo, cjpeg and jpegtran of libjpeg-turbo 2.1.5. Each shows the same four patches
(red, green over blue, grey), 96 x 72 px.  usage: make.py  (writes beside itself)
"""

import io
import pathlib
import subprocess

from PIL import Image

HERE = pathlib.Path(__file__).parent
COLOURS = [(200, 40, 40), (40, 160, 60), (40, 60, 180), (128, 128, 128)]

picture = Image.new("RGB", (96, 72))
for at, colour in enumerate(COLOURS):
    picture.paste(colour, (48 * (at % 2), 36 * (at // 2), 48 * (at % 2) + 48, 36 * (at // 2) + 36))


def tool(name, *arguments, given):
    made = subprocess.run([name, *arguments], input=given, capture_output=True, check=True)
    return made.stdout


def ppm(image):
    out = io.BytesIO()
    image.save(out, "PPM")
    return out.getvalue()


picture.save(HERE / "baseline.jpg", quality=95, subsampling=0)
picture.save(HERE / "subsampled.jpg", quality=95, subsampling=2)
picture.save(HERE / "progressive.jpg", quality=95, progressive=True)
picture.convert("CMYK").save(HERE / "cmyk.jpg", quality=95)
picture.convert("L").save(HERE / "grey.jpg", quality=95)
picture.convert("L").save(HERE / "grey-progressive.jpg", quality=95, progressive=True)
(HERE / "arithmetic.jpg").write_bytes(tool("cjpeg", "-arithmetic", "-quality", "95", given=ppm(picture)))
(HERE / "arithmetic-progressive.jpg").write_bytes(
    tool("jpegtran", "-arithmetic", "-progressive", given=(HERE / "baseline.jpg").read_bytes())
)
(HERE / "restarts.jpg").write_bytes(tool("cjpeg", "-restart", "1", "-quality", "95", given=ppm(picture)))
(HERE / "stored-as-rgb.jpg").write_bytes(tool("cjpeg", "-rgb", "-quality", "95", given=ppm(picture)))
picture.save(HERE / "lossy.webp", quality=95)
picture.save(HERE / "lossless.webp", lossless=True)
picture.save(HERE / "moving.webp", save_all=True, append_images=[picture.rotate(180)], lossless=True)
picture.quantize(8).save(HERE / "palette.png")
picture.convert("RGBA").save(HERE / "alpha.png")
# 200 megapixels in a true file: one bit a pixel, all white.
Image.new("1", (20_000, 10_000), 1).save(HERE / "200-megapixels.png", optimize=True)
picture.save(HERE / "other.avif", quality=90)
picture.save(HERE / "other.tiff")
picture.save(HERE / "other.gif")
