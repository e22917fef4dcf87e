"""The files in deploy/ and the Dockerfile: held against what reads them, and against the service itself."""

import json
import re
import shutil
import subprocess
import sys
from pathlib import Path

import kubernetes_validate
import pytest
import yaml
from prometheus_client.parser import text_string_to_metric_families

from service.app import create_app
from service.settings import DECLARED, PREFIX, Settings, settings_table

ROOT = Path(__file__).parents[2]
DEPLOY = ROOT / "deploy"
BASE = sorted((DEPLOY / "kubernetes" / "base").glob("*.yaml"))
MANIFESTS = {path.stem: path for path in BASE if path.name != "kustomization.yaml"}
VARIABLES = {each.variable for each in DECLARED}


def manifest(name):
    return yaml.safe_load(MANIFESTS[name].read_text(encoding="utf-8"))


def pod():
    return manifest("deployment")["spec"]["template"]["spec"]


def container():
    (only,) = pod()["containers"]
    return only


@pytest.mark.parametrize("name", MANIFESTS)
def test_every_manifest_is_a_resource_without_an_unknown_key(name):
    """The schemas are Kubernetes' own, as the kubernetes-validate package ships them."""
    kubernetes_validate.validate(manifest(name), "1.32", strict=True)


def test_a_misspelt_key_would_be_seen():
    wrong = manifest("deployment")
    wrong["spec"]["template"]["spec"]["enableServiceLink"] = False
    with pytest.raises(kubernetes_validate.ValidationError):
        kubernetes_validate.validate(wrong, "1.32", strict=True)


def test_the_kustomization_names_every_manifest():
    listed = yaml.safe_load((DEPLOY / "kubernetes" / "base" / "kustomization.yaml").read_text(encoding="utf-8"))
    assert {f"{name}.yaml" for name in MANIFESTS} == set(listed["resources"])


def test_the_pod_may_do_nothing_but_serve():
    """The restricted profile of Kubernetes' pod security standards, and what it leaves open."""
    assert pod()["enableServiceLinks"] is False
    assert pod()["automountServiceAccountToken"] is False
    assert pod()["securityContext"]["runAsNonRoot"] is True
    assert pod()["securityContext"]["seccompProfile"]["type"] == "RuntimeDefault"
    allowed = container()["securityContext"]
    assert allowed["readOnlyRootFilesystem"] is True
    assert allowed["allowPrivilegeEscalation"] is False
    assert allowed["capabilities"] == {"drop": ["ALL"]}
    assert "memory" in container()["resources"]["limits"]
    assert manifest("network-policy")["spec"]["egress"] == []
    assert "Egress" in manifest("network-policy")["spec"]["policyTypes"]


def test_the_probes_ask_for_different_things_and_a_stop_takes_its_time(app):
    paths = {name: container()[f"{name}Probe"]["httpGet"]["path"] for name in ("liveness", "readiness", "startup")}
    assert paths == {"liveness": "/health/live", "readiness": "/health/ready", "startup": "/health/ready"}
    for path in paths.values():
        assert app.test_client().get(path).status_code == 200
    sleep = int(container()["lifecycle"]["preStop"]["exec"]["command"][1])
    assert pod()["terminationGracePeriodSeconds"] > sleep + Settings().grace


def test_everything_selects_this_deployments_pods():
    labels = manifest("deployment")["spec"]["template"]["metadata"]["labels"]
    assert manifest("deployment")["spec"]["selector"]["matchLabels"] == labels
    assert manifest("service")["spec"]["selector"] == labels
    assert manifest("disruption-budget")["spec"]["selector"]["matchLabels"] == labels
    assert manifest("network-policy")["spec"]["podSelector"]["matchLabels"] == labels


def test_the_autoscaler_and_the_budget_mean_this_deployment():
    target = manifest("autoscaler")["spec"]["scaleTargetRef"]
    assert (target["kind"], target["name"]) == ("Deployment", manifest("deployment")["metadata"]["name"])
    assert manifest("autoscaler")["spec"]["minReplicas"] > manifest("disruption-budget")["spec"]["maxUnavailable"]
    assert "replicas" not in manifest("deployment")["spec"]


@pytest.mark.parametrize(
    "path",
    [
        each
        for each in DEPLOY.rglob("*")
        if each.is_file() and "requirements" not in each.name and each.suffix != ".pyc"
    ],
    ids=lambda path: path.name,
)
def test_every_variable_that_a_file_names_is_one_of_the_settings(path):
    text = path.read_text(encoding="utf-8")
    named = set(re.findall(rf"\b{PREFIX}[A-Z][A-Z_]+\b", text))
    of_others = {"STRAP_INSTANCES", "STRAP_HTTP_PORT", "STRAP_HTTPS_PORT"}  # of compose; the rest are HAProxy's own
    assert {each for each in named - of_others if not each.startswith("STRAP_PROXY_")} <= VARIABLES


def rules():
    return [
        rule
        for group in yaml.safe_load((DEPLOY / "alerts.yml").read_text(encoding="utf-8"))["groups"]
        for rule in group["rules"]
    ]


def exposed():
    """Every sample name and label that /metrics can give: the declared families with the suffixes of their kind."""
    text = create_app(Settings()).test_client().get("/metrics").text
    suffixes = {"counter": ("_total",), "gauge": ("",), "histogram": ("_bucket", "_sum", "_count")}
    return {
        each.name + suffix
        for each in text_string_to_metric_families(text)
        if each.type in suffixes
        for suffix in suffixes[each.type]
    }


@pytest.mark.parametrize("rule", rules(), ids=lambda rule: rule["alert"])
def test_every_alert_is_about_something_that_is_counted_and_says_what_to_do(rule):
    named = set(re.findall(r"\bstrap_[a-z_]+\b", rule["expr"]))
    assert named <= exposed()
    assert named or "up{" in rule["expr"]
    assert rule["labels"]["severity"] in ("page", "ticket")
    assert rule["annotations"]["summary"].endswith(".")
    assert rule["annotations"]["action"].endswith(".")
    assert re.fullmatch("[0-9]+[mh]", rule["for"])


def test_every_code_in_an_alert_is_a_problems_code():
    from service.door.problems import PROBLEMS  # noqa: PLC0415 # beside the one test that needs it

    known = {kind.code for kind in PROBLEMS.values()}
    for rule in rules():
        for codes in re.findall(r'code=~?"([^"]+)"', rule["expr"]):
            assert set(codes.split("|")) <= known


@pytest.mark.skipif(shutil.which("promtool") is None, reason="promtool is not here")
def test_prometheus_reads_the_alerts():
    subprocess.run(["promtool", "check", "rules", str(DEPLOY / "alerts.yml")], check=True, capture_output=True)


def test_the_dockerfile_is_clean_by_hadolint():
    hadolint = Path(sys.executable).parent / "hadolint"
    done = subprocess.run([hadolint, ROOT / "Dockerfile"], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout) == (0, "")


def test_the_image_holds_what_the_service_reads_and_runs_as_nobody():
    text = (ROOT / "Dockerfile").read_text(encoding="utf-8")
    for needed in (
        "deploy/gunicorn.conf.py",
        "openapi/openapi.json openapi/",
        "openapi/rules openapi/rules",
        "service service",
    ):
        assert needed in text
    assert re.search(r"^USER [1-9][0-9]+:[1-9][0-9]+$", text, re.MULTILINE)
    assert re.search(r'^CMD \["', text, re.MULTILINE)
    assert "HEALTHCHECK" in text
    assert re.search(r"^ARG BASE=(\S+)\nFROM \$\{BASE\} AS build$", text, re.MULTILINE)
    assert text.count("\nFROM ") == 2
    assert "\nFROM scratch\n" in text
    kept = (ROOT / ".dockerignore").read_text(encoding="utf-8").splitlines()
    assert {"*", "!deploy/gunicorn.conf.py", "!openapi/openapi.json", "!openapi/rules", "!service"} <= set(kept)


def compose():
    return yaml.safe_load((DEPLOY / "compose.yaml").read_text(encoding="utf-8"))


def test_compose_gives_each_instance_no_more_than_it_needs():
    patterns, proxy = compose()["services"]["patterns"], compose()["services"]["proxy"]
    assert patterns["read_only"] is proxy["read_only"] is True
    assert patterns["cap_drop"] == proxy["cap_drop"] == ["ALL"]
    assert compose()["networks"]["inside"]["internal"] is True
    assert patterns["networks"] == ["inside"]
    assert int(re.fullmatch(r"\$\{STRAP_INSTANCES:-([0-9]+)\}", patterns["deploy"]["replicas"])[1]) >= 2
    assert "ports" not in patterns


def test_compose_takes_what_is_the_shops_own_from_folders_and_settings_from_one_file():
    """A folder, since a file that is mounted by itself stays the old one; one file, since what is said by hand once is
    lost the next time. No secret beside it goes into the repository or the image."""
    services = compose()["services"]
    for each in services.values():
        for volume in each["volumes"]:
            assert (DEPLOY / volume.partition(":")[0]).is_dir()
            assert volume.endswith(":ro")
    for name, value in services["patterns"]["environment"].items():
        assert value in ("1", f"${{{name}:-}}"), name
    for private in (".env", "shop/shop.toml", "keys/keys", "tls/straps.pem"):
        ignored = subprocess.run(["git", "check-ignore", "-q", DEPLOY / private], cwd=ROOT, check=False)
        assert ignored.returncode == 0, private


REASONED = {
    ("B108", "deploy/gunicorn.conf.py"): "/dev/shm is where gunicorn and mkdtemp make files of unguessable names",
    ("B104", "service/door/hosts.py"): "the addresses that are no name of a host; nothing is bound there",
    ("B311", "service/workshop/cut_plan/swapping.py"): "dice for a search, seeded so that the same plan comes again",
    ("B406", "service/forms/svg.py"): "escape and quoteattr write XML; nothing is parsed",
    ("B704", "service/door/pages/docs_page.py"): "a style sheet of ours, and a text that is escaped just before",
    ("B406", "service/artwork/clean.py"): "escape and quoteattr write XML; nothing is parsed",
}


def test_bandit_finds_nothing_that_is_not_reasoned():
    command = [sys.executable, "-m", "bandit", "-q", "-f", "json", "-r", "service", "deploy", "openapi"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    found = {(each["test_id"], each["filename"].removeprefix("./")) for each in json.loads(done.stdout)["results"]}
    assert {each for each in found if each not in REASONED} == set()


def test_the_table_of_limits_in_the_documentation_is_current():
    """After a change of a setting: `python -m tests.deploy.limits`."""
    assert settings_table() in (DEPLOY / "README.md").read_text(encoding="utf-8")
