"""The audit never says that all is well without having asked about everything, of somebody who knows."""

from pathlib import Path

import pytest

from tests.auditing.__main__ import CLEAN, KNOWN, NOT_AUDITED, VULNERABLE, NotAudited, audit

FLAW = {"id": "CVE-2019-10906", "fix_versions": ["2.10.1"]}
LOCKS = (Path("one.txt"), Path("two.txt"))


def package(*flaws, name="flask"):
    return {"name": name, "version": "1.0", "vulns": list(flaws)}


def answering(**answers):
    """Somebody who knows the known flaw, and says this of the locks; whatever is no report is raised."""

    def asked(lock):
        said = answers.get(lock.stem, [package()]) if lock in LOCKS else answers.get("known", [package(FLAW)])
        if isinstance(said, Exception):
            raise said
        return {"dependencies": said}

    return asked


def test_all_asked_about_and_none_known_is_clean(capsys):
    assert audit(LOCKS, answering()) == CLEAN
    assert capsys.readouterr().out == "one.txt: no known vulnerabilities\ntwo.txt: no known vulnerabilities\n"


def test_what_is_known_is_told_with_the_release_that_mends_it(capsys):
    assert audit(LOCKS, answering(two=[package(), package(FLAW, name="jinja2")])) == VULNERABLE
    assert "jinja2 1.0: CVE-2019-10906, mended in 2.10.1" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("answers", "why"),
    [
        ({"known": NotAudited("no way out")}, "no way out"),
        ({"known": [package()]}, KNOWN),
        ({"known": []}, "no package"),
        ({"one": NotAudited("gone")}, "gone"),
        ({"two": []}, "no package"),
        ({"two": [package(), {"name": "x", "version": "1", "skip_reason": "not found"}]}, "x (not found)"),
    ],
)
def test_whatever_was_not_asked_is_never_clean(capsys, answers, why):
    assert audit(LOCKS, answering(**answers)) == NOT_AUDITED
    told = capsys.readouterr().out
    assert told.startswith("not audited: ")
    assert why in told
    assert "no known vulnerabilities" not in told
