"""A start: where it listens, what it says when it cannot, and what it leaves behind or clears away."""

import os
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from service.server.counts_folder import PREFIX, make_folder, sweep_folders
from service.server.listening import require_place
from service.settings import SettingsError
from tests.support.serving import ROOT, Instance, free_port

MASTER = ["-m", "gunicorn", "--config", "deploy/gunicorn.conf.py", "service.wsgi:app"]


def folder_of(instance):
    """The folder of counts that a worker has mapped."""
    (worker,) = instance.workers
    paths = {each.split()[-1] for each in Path(f"/proc/{worker}/maps").read_text().splitlines() if PREFIX in each}
    (folder,) = {Path(each).parent for each in paths}
    return folder


def test_the_folder_of_who_lives_stays_and_that_of_who_ended_goes(tmp_path):
    folder, lock = make_folder(str(tmp_path))
    (folder / "counter_7.db").write_bytes(b"1")
    assert sweep_folders(str(tmp_path)) == []
    os.close(lock)
    assert sweep_folders(str(tmp_path)) == [folder]
    assert list(tmp_path.iterdir()) == []


def test_what_is_not_a_folder_of_ours_is_left_alone(tmp_path):
    """By name alone it may be anybody's, and a link may lead anywhere."""
    elsewhere, lock = make_folder(str(tmp_path))
    os.close(lock)
    kept = elsewhere.rename(tmp_path / "kept")
    (tmp_path / f"{PREFIX}link").symlink_to(kept)
    (tmp_path / f"{PREFIX}another").mkdir()
    (tmp_path / f"{PREFIX}file").write_bytes(b"")
    assert sweep_folders(str(tmp_path)) == []
    assert {each.name for each in kept.iterdir()} == {"master.lock"}
    assert len(list(tmp_path.iterdir())) == 4


@pytest.mark.slow
def test_a_start_clears_away_what_one_that_was_killed_left_behind():
    killed, living = (Instance(workers=1) for _ in range(2))
    left, kept = folder_of(killed), folder_of(living)
    assert left.is_dir()
    killed.kill()
    third = Instance(workers=1)
    assert not left.exists()
    assert kept.is_dir()
    third.stop()
    living.stop()
    assert not kept.exists()


@pytest.mark.slow
def test_a_port_that_is_taken_is_told_in_one_line_which_names_the_setting():
    with socket.create_server(("127.0.0.1", 0)) as taken:
        bind = f"127.0.0.1:{taken.getsockname()[1]}"
        kept = {name: value for name, value in os.environ.items() if not name.startswith(("STRAP_", "PROMETHEUS_"))}
        done = subprocess.run(
            [sys.executable, *MASTER], cwd=ROOT, env=kept | {"STRAP_BIND": bind}, capture_output=True, text=True,
            timeout=120, check=False,
        )  # fmt: skip
    assert done.returncode != 0
    said = (done.stdout + done.stderr).strip().splitlines()
    (told,) = [line.strip() for line in said if bind in line]
    assert told.startswith(f"STRAP_BIND: {bind} cannot be listened at: another program listens there already;")
    assert len(said) == 2


@pytest.mark.parametrize("bind", ["192.0.2.1:8000", "no-such-host.invalid:8000", "[2001:db8::1]:8000"])
def test_an_address_that_is_not_here_is_told(bind):
    """RFC 5737, RFC 3849 and RFC 6761 keep these from being anybody's."""
    with pytest.raises(SettingsError, match="STRAP_BIND") as caught:
        require_place(bind, {})
    assert bind in str(caught.value)


def test_an_address_that_is_free_passes():
    for bind in (f"127.0.0.1:{free_port()}", f"0.0.0.0:{free_port()}", "127.0.0.1:0", "unix:/no/matter"):
        require_place(bind, {})


def test_a_socket_that_systemd_hands_over_is_not_looked_at():
    """sd_listen_fds(3)."""
    with socket.create_server(("127.0.0.1", 0)) as taken:
        require_place(f"127.0.0.1:{taken.getsockname()[1]}", {"LISTEN_FDS": "1"})


@pytest.mark.parametrize(
    ("bind", "address", "alone"),
    [
        ("127.0.0.1:8000", "http://127.0.0.1:8000/", True),
        ("0.0.0.0:81", "http://127.0.0.1:81/", False),
        ("[::]:81", "http://127.0.0.1:81/", False),
        ("192.0.2.7:81", "http://192.0.2.7:81/", False),
        ("[::1]:81", "http://[::1]:81/", True),
        ("localhost:81", "http://localhost:81/", True),
    ],
)
def test_the_start_says_which_address_to_open(bind, address, alone):
    asked = 'source deploy/setup.sh; address_of "$1"; is_for_this_machine_alone "$1" && echo alone'
    done = subprocess.run(["bash", "-c", asked, "-", bind], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.stdout.split() == [address, *["alone"] * alone]
