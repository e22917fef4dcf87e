"""No file is kept that no test looks at."""

from tests.golden import test_core_told, test_odd_straps, test_offers_told, test_shop_file_told, test_told
from tests.golden.telling import TOLD

TESTS = (test_core_told, test_odd_straps, test_offers_told, test_shop_file_told, test_told)


def test_nothing_told_is_left_over():
    assert {path.stem for path in TOLD.glob("*")} == {name for tests in TESTS for name in tests.FILES}
