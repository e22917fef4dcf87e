"""The optimum of tiny batches by trying everything. Shares nothing with the planner."""


def least_area(pieces, stock, kerf=0):
    """The least area of hides, out of (length, width, count), that a two-stage guillotine needs; `None`: too few.

    Strips of exactly the pieces' width the long way first, then pieces out of strips. Pieces are (length, width).
    """
    search = _Search(sorted(pieces, key=lambda piece: (-piece[1], -piece[0])), stock, kerf)
    search.place(0)
    return search.best


class _Search:
    def __init__(self, pieces, stock, kerf):
        self.pieces = pieces
        self.stock = stock
        self.kerf = kerf
        self.left = [count for *_, count in stock]
        self.hides = []  # [size, rest of the width, [[width, rest of the length], …]]
        self.best = None

    def place(self, at):
        area = sum(self.stock[size][0] * self.stock[size][1] for size, *_ in self.hides)
        if self.best is not None and area >= self.best:
            return
        if at == len(self.pieces):
            self.best = area
            return
        length, width = self.pieces[at]
        for hide in self.hides:
            for strip in hide[2]:
                if strip[0] == width and strip[1] >= length:
                    strip[1] -= length + self.kerf
                    self.place(at + 1)
                    strip[1] += length + self.kerf
            self._new_strip(at, hide)
        for size, count in enumerate(self.left):
            if count:
                self.left[size] -= 1
                self.hides.append([size, self.stock[size][1], []])
                self._new_strip(at, self.hides[-1])
                self.hides.pop()
                self.left[size] += 1

    def _new_strip(self, at, hide):
        length, width = self.pieces[at]
        if self.stock[hide[0]][0] >= length and hide[1] >= width:
            hide[1] -= width + self.kerf
            hide[2].append([width, self.stock[hide[0]][0] - length - self.kerf])
            self.place(at + 1)
            hide[2].pop()
            hide[1] += width + self.kerf


def least_bars(sizes, capacity):
    """The fewest bars of one capacity for a handful of sizes."""
    best = [len(sizes)]
    _fill(sorted(sizes, reverse=True), 0, [], capacity, best)
    return best[0]


def _fill(sizes, at, rests, capacity, best):
    if len(rests) >= best[0]:
        return
    if at == len(sizes):
        best[0] = len(rests)
        return
    for index in range(len(rests)):
        if rests[index] >= sizes[at]:
            rests[index] -= sizes[at]
            _fill(sizes, at + 1, rests, capacity, best)
            rests[index] += sizes[at]
    _fill(sizes, at + 1, [*rests, capacity - sizes[at]], capacity, best)
