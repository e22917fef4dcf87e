"""Printed pages as pixels: rendered by pdfium at 600 dpi, and what is measured in them by colour alone."""

import numpy as np
import pypdfium2

DPI = 600


class Rendered:
    """One page. Places and sizes are millimetres from its upper left corner.

    pdfium rounds a page up to whole pixels and stretches what is on it to them, so each page has its own scales.
    """

    def __init__(self, page):
        self.size_pt = page.get_size()
        self.text = page.get_textpage().get_text_range()
        bitmap = page.render(scale=DPI / 72, rev_byteorder=True)
        self.pixels = bitmap.to_numpy()[:, :, :3]
        width, height = (side / 72 * 25.4 for side in self.size_pt)
        self.across, self.down = self.pixels.shape[1] / width, self.pixels.shape[0] / height

    def window(self, left, top, right, bottom):
        """The pixels of a rectangle and the place of its first one."""
        rows = slice(max(round(top * self.down), 0), round(bottom * self.down))
        columns = slice(max(round(left * self.across), 0), round(right * self.across))
        return self.pixels[rows, columns], columns.start / self.across, rows.start / self.down

    def bounds(self, mask_of, left, top, right, bottom):
        """Left, top, right and bottom of all pixels of a kind in a rectangle; `None` where there are none."""
        found, x, y = self.window(left, top, right, bottom)
        mask = mask_of(found)
        rows, columns = np.nonzero(mask.any(axis=1))[0], np.nonzero(mask.any(axis=0))[0]
        if not len(rows):
            return None
        return (
            columns[0] / self.across + x,
            rows[0] / self.down + y,
            (columns[-1] + 1) / self.across + x,
            (rows[-1] + 1) / self.down + y,
        )


def pages_of(content):
    """Every page, rendered one after the other."""
    document = pypdfium2.PdfDocument(content)
    for index in range(len(document)):
        yield Rendered(document[index])


def dark(pixels):
    """Black ink."""
    return pixels.max(axis=2) < 110


def blue(pixels):
    """What is cut through: the wide blue contour, not the pale ground in it nor a green fold over it."""
    red, green, blue_ = (pixels[:, :, channel].astype(np.int16) for channel in range(3))
    return (red < 130) & (blue_ - green > 30)


def vermillion(pixels):
    """What is only scribed."""
    return (pixels[:, :, 0] > 150) & (pixels[:, :, 2] < 130) & (pixels[:, :, 1] < 190)


def runs(mask):
    """The longest run of ink in each row, in pixels."""
    padded = np.pad(mask, ((0, 0), (1, 1))).astype(np.int8)
    found = []
    for row in np.diff(padded, axis=1):
        starts, ends = np.nonzero(row == 1)[0], np.nonzero(row == -1)[0]
        found.append((ends - starts).max() if len(starts) else 0.0)
    return np.array(found)
