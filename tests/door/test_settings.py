"""Settings: declared once, read strictly, every mistake at once."""

from dataclasses import fields

import pytest

from service.settings import DECLARED, Settings, SettingsError, WholeNumber, read_settings, settings_table

BESIDE = {"STRAP_THREADS": "128", "STRAP_DPI_MAX": "2400", "STRAP_DPI_DEFAULT": "10"}
AT_EDGE = {
    "threads": {
        "STRAP_SMALL_AT_ONCE": "1",
        "STRAP_SMALL_WAITING": "0",
        "STRAP_LARGE_AT_ONCE": "1",
        "STRAP_LARGE_WAITING": "0",
    }
}
"""What a limit at its edge needs of the others."""


def test_an_empty_environment_gives_the_defaults():
    assert read_settings({}) == Settings()
    assert read_settings({"PATH": "/bin", "STRAP_BODY_MAX": "  "}) == Settings()


def test_each_limit_can_be_set_to_both_its_ends():
    for each in DECLARED:
        if isinstance(each.allowed, WholeNumber):
            for value in (each.allowed.least, each.allowed.most):
                environment = BESIDE | AT_EDGE.get(each.name, {}) | {each.variable: str(value)}
                assert getattr(read_settings(environment), each.name) == value
            for value in (each.allowed.least - 1, each.allowed.most + 1):
                with pytest.raises(SettingsError, match=each.variable):
                    read_settings({each.variable: str(value)})


def test_each_default_lies_in_its_range():
    for each in DECLARED:
        if each.default is not None:
            assert each.allowed.read(str(each.default)) == each.default


def test_every_mistake_is_reported_at_once(tmp_path):
    environment = {
        "STRAP_BODYMAX": "1",
        "STRAP_BODY_MAX": "12kB",
        "STRAP_SHOP_FILE": str(tmp_path / "none.toml"),
        "STRAP_BIND": "localhost",
        "STRAP_URL_MAX": "-5",
        "STRAP_CACHE_SECONDS": "٣",
    }
    with pytest.raises(SettingsError) as caught:
        read_settings(environment)
    assert sorted(mistake.partition(":")[0] for mistake in caught.value.mistakes) == sorted(environment)
    assert "did you mean STRAP_BODY_MAX?" in str(caught.value)


def test_a_file_that_may_not_be_read_is_a_mistake_like_others(tmp_path, monkeypatch):
    def refuse(*_, **__):
        raise PermissionError(13, "Permission denied")

    file = tmp_path / "keys"
    file.touch()
    monkeypatch.setattr("pathlib.Path.read_text", refuse)
    with pytest.raises(SettingsError, match=r"STRAP_KEYS_FILE: .* cannot be read: Permission denied"):
        read_settings({"STRAP_KEYS_FILE": str(file), "STRAP_SHOP_FILE": ""})


def test_a_default_resolution_above_the_highest_is_a_mistake():
    with pytest.raises(SettingsError, match="STRAP_DPI_DEFAULT"):
        read_settings({"STRAP_DPI_DEFAULT": "700"})
    assert read_settings({"STRAP_DPI_DEFAULT": "700", "STRAP_DPI_MAX": "700"}).dpi_default == 700


def test_a_thread_is_left_for_probes_whatever_runs_or_waits():
    with pytest.raises(SettingsError, match="STRAP_THREADS: has to be at least 20"):
        read_settings({"STRAP_THREADS": "19", "STRAP_SMALL_WAITING": "5"})
    assert read_settings({"STRAP_THREADS": "20", "STRAP_SMALL_WAITING": "5"}).threads == 20


@pytest.mark.parametrize("address", ["127.0.0.1:8000", "[::]:80", "unix:/run/strap.sock", "0.0.0.0:65535"])
def test_addresses(address):
    assert read_settings({"STRAP_BIND": address}).bind == address


def test_the_table_shows_every_setting_with_its_default():
    table = settings_table()
    for each, field in zip(DECLARED, fields(Settings), strict=True):
        row = next(line for line in table.splitlines() if f"`{each.variable}`" in line)
        assert f"| {'none' if field.default is None else field.default} |" in row
        assert len(row.split(" | ")) == 5
