"""Keys come and go while the service runs: by a date of their own (ISO 8601), and by a change of their file."""

import hashlib
import os
from datetime import UTC, datetime, timedelta

import pytest

from service.app import create_app
from service.door import keys as rings
from service.door.machine.metrics import KEYS_REFUSED
from service.keys_file import Key, Keys, KeysFile
from service.settings import Settings

KEY, OTHER = "marble-otter-quay-1", "marble-otter-quay-2"


def digest(key):
    return hashlib.sha256(key.encode()).hexdigest()


def headers(key):
    return {"Authorization": f"Bearer {key}"}


def replaced(file, *lines):
    """The file with other lines, written beside it and renamed into its place."""
    fresh = file.with_name("fresh")
    fresh.write_text("".join(f"{line}\n" for line in lines), encoding="utf-8")
    fresh.rename(file)


@pytest.fixture
def file(tmp_path):
    made = tmp_path / "keys"
    replaced(made, f"{digest(KEY)} the counter")
    return made


@pytest.fixture
def client(file, shop, monkeypatch):
    monkeypatch.setattr(rings, "_LOOK_SECONDS", 0)
    return create_app(Settings(keys_file=KeysFile().read(str(file))), shop).test_client()


def status(client, key):
    return client.get("/v1/shop", headers=headers(key)).status_code


def test_a_key_that_is_given_out_counts_at_once_and_one_that_is_taken_back_no_more(client, file):
    assert [status(client, KEY), status(client, OTHER)] == [200, 401]
    replaced(file, f"{digest(OTHER)} the counter")
    assert [status(client, KEY), status(client, OTHER)] == [401, 200]


def test_a_file_that_cannot_be_used_changes_nothing_and_is_told_once(client, file, caplog):
    assert KEYS_REFUSED._value.get() == 0
    for spoil in (lambda: replaced(file, "no key at all"), file.unlink):
        caplog.clear()
        spoil()
        assert [status(client, KEY), status(client, KEY)] == [200, 200]
        (told,) = [each for each in caplog.records if "keys stay as they were" in each.message]
        assert (told.levelname, len(told.mistakes)) == ("ERROR", 1)
        assert KEYS_REFUSED._value.get() == 1
    replaced(file, f"{digest(OTHER)}")
    assert [status(client, KEY), status(client, OTHER)] == [401, 200]
    assert KEYS_REFUSED._value.get() == 0


def test_a_change_that_keeps_time_and_length_is_seen_by_the_rename(client, file):
    before = file.stat()
    replaced(file, f"{digest(OTHER)} the counter")
    os.utime(file, ns=(before.st_atime_ns, before.st_mtime_ns))
    assert file.stat().st_size == before.st_size
    assert status(client, OTHER) == 200


@pytest.mark.parametrize(
    ("until", "end"),
    [
        ("2027-03-31", datetime(2027, 4, 1, tzinfo=UTC)),
        ("2027-03-31T18:00+02:00", datetime(2027, 3, 31, 16, tzinfo=UTC)),
        ("2027-03-31T18:00:30Z", datetime(2027, 3, 31, 18, 0, 30, tzinfo=UTC)),
        ("20270331T180000Z", datetime(2027, 3, 31, 18, tzinfo=UTC)),
    ],
)
def test_a_day_counts_to_its_end_and_a_moment_as_it_stands(file, until, end):
    """ISO 8601: a calendar date; a date and time with its offset from UTC."""
    replaced(file, f"{digest(KEY)} until={until} the counter at the fair")
    (key,) = KeysFile().read(str(file)).keys
    assert (key.until, key.holder) == (end, "the counter at the fair")
    assert not key.is_over(end - timedelta(microseconds=1))
    assert key.is_over(end)


@pytest.mark.parametrize("until", ["", "soon", "2027-02-30", "2027-03-31T18:00", "31.3.2027", "9999-12-31", "2027-W13"])
def test_an_end_that_is_no_date_is_refused_by_its_line(file, until):
    replaced(file, "# keys", f"{digest(OTHER)}", f"{digest(KEY)} until={until} the counter")
    with pytest.raises(ValueError, match="see line 3"):
        KeysFile().read(str(file))


def test_a_key_whose_time_is_over_is_refused_with_the_reason_and_is_no_guess(shop):
    ended = Key(bytes.fromhex(digest(KEY)), datetime(2020, 1, 2, tzinfo=UTC))
    client = create_app(Settings(keys_file=Keys((ended,)), guesses_per_minute=1), shop).test_client()
    for _ in range(3):
        refused = client.get("/v1/shop", headers=headers(KEY))
        assert (refused.status_code, refused.json["code"]) == (401, "key_needed")
        assert "ended at 2020-01-02T00:00Z" in refused.json["detail"]
    assert "price" not in client.get("/v1/shop").text  # keys were given out, so nothing is open


def test_the_same_key_again_with_a_later_end_counts(shop):
    twice = (Key(bytes.fromhex(digest(KEY)), datetime(2020, 1, 2, tzinfo=UTC)), Key(bytes.fromhex(digest(KEY))))
    client = create_app(Settings(keys_file=Keys(twice)), shop).test_client()
    assert status(client, KEY) == 200


@pytest.mark.parametrize(("days", "told"), [(15, []), (13, ["is about to end"]), (-1, ["has ended"])])
def test_the_log_says_two_weeks_before_which_key_ends(shop, caplog, days, told):
    key = Key(bytes.fromhex(digest(KEY)), datetime.now(UTC) + timedelta(days=days), "the counter")
    create_app(Settings(keys_file=Keys((key, Key(b"\1" * 32)))), shop)
    found = [each for each in caplog.records if each.name == "service.keys"]
    assert [each.message.removeprefix("an API key ") for each in found] == told
    for each in found:
        assert (each.levelname, each.holder, each.until) == ("WARNING", "the counter", key.until.isoformat())
        assert digest(KEY) not in str(vars(each))


def test_a_service_that_runs_for_long_says_so_every_day(client, file, caplog, monkeypatch):
    replaced(file, f"{digest(KEY)} until={datetime.now(UTC) + timedelta(days=3):%Y-%m-%d} the counter")

    def warnings():
        caplog.clear()
        assert [status(client, KEY), status(client, KEY)] == [200, 200]
        return [each.holder for each in caplog.records if each.name == "service.keys" and hasattr(each, "holder")]

    assert warnings() == ["the counter"]
    assert warnings() == []
    monkeypatch.setattr(rings, "_AGAIN", timedelta(0))
    assert warnings() == ["the counter"] * 2
