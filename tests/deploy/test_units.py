"""The units of deploy/systemd: held against systemd where it is here, and against what a bare Debian has."""

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

UNITS = Path(__file__).parents[2] / "deploy" / "systemd"
ALWAYS_THERE = {"/bin/sh", "/usr/sbin/nginx", "/opt/strap-patterns/.venv/serve/bin/python"}
"""The shell is POSIX's, with `kill` among its own commands; the other two are what is installed by the steps."""


def unit(name):
    return (UNITS / f"{name}.service").read_text(encoding="utf-8")


def said(name, key):
    return re.findall(rf"^{key}=(.*)$", unit(name), re.MULTILINE)


BOTH = pytest.mark.parametrize("name", ["strap-patterns@", "strap-proxy"])


@BOTH
@pytest.mark.skipif(shutil.which("systemd-analyze") is None, reason="systemd-analyze is not here")
def test_systemd_reads_the_unit(name, tmp_path):
    """With programs of this machine in the place of those that are installed."""
    for each in UNITS.glob("*.service"):
        text = each.read_text(encoding="utf-8").replace("/opt/strap-patterns/.venv/serve/bin/python", sys.executable)
        file = tmp_path / each.name.replace("@.", "@8001.")
        file.write_text(text.replace("/usr/sbin/nginx", sys.executable), encoding="utf-8")
    (tmp_path / "strap-patterns@8002.service").write_bytes((tmp_path / "strap-patterns@8001.service").read_bytes())
    file = tmp_path / f"{name}.service".replace("@.", "@8001.")
    done = subprocess.run(["systemd-analyze", "verify", "--man=no", file], capture_output=True, text=True, check=False)
    assert (done.returncode, [line for line in done.stderr.splitlines() if "strap-" in line]) == (0, [])


@BOTH
def test_no_command_needs_what_a_bare_system_lacks(name):
    commands = [each.split()[0] for key in ("ExecStart", "ExecStartPre", "ExecReload") for each in said(name, key)]
    assert commands
    assert set(commands) <= ALWAYS_THERE
    assert said(name, "ExecReload")[-1] == "/bin/sh -c 'kill -HUP $MAINPID'"


@BOTH
def test_what_fails_is_not_tried_for_ever(name):
    """systemd.unit(5), StartLimitBurst: counted before `RestartSec` can let the window pass."""
    (window,), (burst,), (pause,) = (
        said(name, key) for key in ("StartLimitIntervalSec", "StartLimitBurst", "RestartSec")
    )
    assert int(burst) * (int(pause) + 5) <= int(window)  # five seconds for a start that fails


def test_a_wrong_configuration_is_not_tried_again():
    """systemd.exec(5), "Process exit codes": CONFIG is 78, the status that tests/deploy/test_serving.py finds."""
    assert said("strap-patterns@", "RestartPreventExitStatus") == ["CONFIG"]


def test_no_variable_of_the_proxys_is_one_that_nginx_reads():
    """nginx takes sockets from the variable NGINX (its development guide, "Inherited sockets", from memory)."""
    names = [each.partition("=")[0] for line in said("strap-proxy", "Environment") for each in line.split()]
    assert names == ["CONFIGURATION"]
    for variable in re.findall(r"\$\{(\w+)\}", unit("strap-proxy")):
        assert variable in names
    for line in said("strap-proxy", "ExecStart"):
        assert "deploy/proxy/${CONFIGURATION}" in line


@BOTH
def test_each_runs_as_a_user_of_its_own_with_no_more_rights_than_it_needs(name):
    assert said(name, "User") == [{"strap-patterns@": "strap-patterns", "strap-proxy": "strap-proxy"}[name]]
    assert said(name, "NoNewPrivileges") == ["yes"]
    assert said(name, "ProtectSystem") == ["strict"]
    assert said(name, "CapabilityBoundingSet") == [{"strap-patterns@": "", "strap-proxy": "CAP_NET_BIND_SERVICE"}[name]]
