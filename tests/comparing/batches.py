"""Questions of cut plans: batches of pieces and of hides drawn with fixed seeds."""

import random

from tests.comparing.questions import Named, Question

LEATHERS = ("harness_8_9", "bridle_10_11", "latigo_6_7")


def of_batches(count: int) -> Named:
    """A batch for every fifth of so many seeds."""
    for seed in range(count // 5):
        yield f"batch {seed}", Question(path="/v1/cut-plans", body=batch(seed))


def batch(seed: int) -> dict[str, object]:
    """Up to 30 pieces in up to two leathers, up to four kinds of hide, with trims and kerfs or without."""
    chance = random.Random(seed)
    leathers = chance.sample(LEATHERS, chance.randrange(1, 3))
    pieces = [
        {"name": f"p{n}", "leather": chance.choice(leathers), "width": chance.randrange(10, 80),
         "length": chance.randrange(50, 900) + chance.choice([0, 0.5])}
        for n in range(chance.randrange(1, 10))
    ]  # fmt: skip
    stock = [
        {"id": f"s{n}", "leather": chance.choice(leathers), "length": chance.randrange(300, 2200),
         "width": chance.randrange(60, 600), "count": chance.randrange(1, 6), "straighten": chance.choice([0, 5])}
        for n in range(chance.randrange(5))
    ]  # fmt: skip
    return {
        "units": "mm",
        "orders": [{"ref": "A", "quantity": chance.randrange(1, 4), "pieces": pieces}],
        "stock": stock,
        "kerf": chance.choice([0, 0, 0.5]),
        "end_trim": chance.choice([0, 3]),
        "min_offcut": {"length": 150, "width": 10},
    }
