"""A picture for the demo in place of a photo: bundles of sheets seen from the edge, the top one's corner crushed."""

import io

from PIL import Image, ImageDraw

from workshop import photos
from workshop.photos import Picture

SIZE = (1200, 800)
WALL, FLOOR, GAP = "#d9d7d0", "#a5a29a", "#6b6154"
VENEERS = ("#d9c49c", "#e3d2b0", "#cfb88c")
LEFT, RIGHT, SHEET, BUNDLE = 140, 1060, 14, 12


def crushed_corner() -> Picture:
    image = Image.new("RGB", SIZE, WALL)
    draw = ImageDraw.Draw(image)
    draw.rectangle((0, 690, *SIZE), fill=FLOOR)
    for bundle in range(3):
        bottom = 690 - bundle * (BUNDLE * SHEET + 30)
        for post in (LEFT + 60, RIGHT - 140):
            draw.rectangle((post, bottom - 30, post + 80, bottom), fill=GAP)
        for sheet in range(BUNDLE):
            top = bottom - 30 - (sheet + 1) * SHEET
            crushed = max(sheet - 7, 0) * 14 if bundle == 2 else 0
            start, bend, low = RIGHT - 2 * crushed, RIGHT - crushed, top + crushed // 2
            bent = [(start, top), (bend, low), (bend, low + SHEET - 2), (start, top + SHEET - 2)]
            draw.polygon([(LEFT, top), *bent, (LEFT, top + SHEET - 2)], fill=VENEERS[(sheet + bundle) % 3])
    content = io.BytesIO()
    image.save(content, format="JPEG", quality=82)
    size = content.tell()
    content.seek(0)
    return photos.read(content, "bundles.jpg", size)
