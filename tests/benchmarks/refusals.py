"""What refusals cost: odd straps, each answered anew, beside one ordinary strap that is made in the same run."""

import statistics
import time

from service.app import create_app
from service.settings import Settings
from tests.benchmarks._timing import line
from tests.support.random_straps import EXAMPLES, random_strap

COUNT = 1500
WORST = {
    "construction": "open",
    "size": {"body_length": "84 in"},
    "body": {"width": "6 in"},
    "ornaments": {
        "item": "bell_38",
        "count": 200,
        "spacing": {"pitch": "0.0001 in"},
        "rows": {"count": 12, "distance": "0.01 in"},
    },
}


def main() -> None:
    """Print milliseconds of processor time, and what a refusal costs in straps made."""
    client = create_app(Settings(kept_bytes=0)).test_client()

    def taken(document: object) -> tuple[float, int]:
        started = time.process_time()
        status = client.post("/v1/patterns", json=document).status_code
        return (time.process_time() - started) * 1000, status

    made = statistics.median(taken(EXAMPLES["parade_harness_strap"])[0] for _ in range(30))
    line("a parade harness strap made", made, "ms")
    refused = sorted(ms for ms, status in (taken(random_strap(seed)) for seed in range(COUNT)) if status == 422)
    for name, share, aim in (("median", 0.5, ""), ("p90", 0.9, ""), ("p99", 0.99, "aim: at most 50")):
        value = refused[int(share * len(refused))]
        line(f"{len(refused)} odd straps refused, {name}", value, "ms", aim)
        line(f"{len(refused)} odd straps refused, {name}", value / made, "straps made")
    line("the slowest of them", refused[-1], "ms", "aim: at most 250")
    line("2,400 bells on one place refused", taken(WORST)[0], "ms", "aim: at most 250")


if __name__ == "__main__":
    main()
