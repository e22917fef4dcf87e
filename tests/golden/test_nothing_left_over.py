"""No file is kept that no test looks at."""

from tests.golden import test_core_told, test_shop_file_told, test_told
from tests.golden.telling import TOLD


def test_nothing_told_is_left_over():
    wanted = test_told.FILES | test_shop_file_told.FILES | test_core_told.FILES
    assert {path.stem for path in TOLD.glob("*")} == wanted
