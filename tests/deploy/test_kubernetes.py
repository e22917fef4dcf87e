"""What kustomize makes of the manifests in deploy/kubernetes, and what callers from outside reach of it.

The schemas are Kubernetes' own, as the kubernetes-validate package ships them; how a path is matched is Kubernetes'
documentation of Ingress, "Path types".
"""

import shutil
import subprocess
from pathlib import Path

import kubernetes_validate
import pytest
import yaml

from service.door.routes import routes
from service.settings import Settings

KUBERNETES = Path(__file__).parents[2] / "deploy" / "kubernetes"
INNER = {"/metrics", "/health/ready", "/workshop", "/workshop/designs/{design}"}
"""Of machines, and of the workshop itself."""


def ingress():
    return yaml.safe_load((KUBERNETES / "public" / "ingress.yaml").read_text(encoding="utf-8"))


def is_matched(rule, path):
    """Exact, or element by element from the beginning."""
    if rule["pathType"] == "Exact":
        return path == rule["path"]
    wanted = rule["path"].strip("/").split("/")
    return path.strip("/").split("/")[: len(wanted)] == wanted


def test_the_ingress_is_one_and_takes_every_path_of_callers_and_none_of_machines():
    kubernetes_validate.validate(ingress(), "1.32", strict=True)
    (rule,) = ingress()["spec"]["rules"]
    reached = {
        route.path
        for route in routes(Settings())
        if any(is_matched(each, route.path) for each in rule["http"]["paths"])
    }
    assert {route.path for route in routes(Settings())} - reached == INNER
    (tls,) = ingress()["spec"]["tls"]
    assert tls["hosts"] == [rule["host"]]
    for spelling in ("/metrics/", "/health/ready/", "/health", "/health/live/../ready", "//metrics", "/docsmetrics"):
        assert not any(is_matched(each, spelling) for each in rule["http"]["paths"]), spelling


def test_the_ingress_sends_to_the_service_and_lets_through_what_it_reads():
    service = yaml.safe_load((KUBERNETES / "base" / "service.yaml").read_text(encoding="utf-8"))
    for each in ingress()["spec"]["rules"][0]["http"]["paths"]:
        named = each["backend"]["service"]
        assert named["name"] == service["metadata"]["name"]
        assert named["port"]["name"] in {port["name"] for port in service["spec"]["ports"]}
    most = ingress()["metadata"]["annotations"]["nginx.ingress.kubernetes.io/proxy-body-size"]
    assert int(most.removesuffix("m")) * 1024**2 == Settings().orders_body_max


@pytest.fixture
def build(tmp_path):
    """What kustomize makes of a folder, each resource held against its schema, with a shop file and a file of keys."""
    if shutil.which("kubectl") is None:
        pytest.skip("kubectl is not here")
    shutil.copytree(KUBERNETES, tmp_path / "kubernetes")

    def built(folder, *, shop="a = 1\n", keys="aa somebody\n", host=None):
        (tmp_path / "kubernetes/with-shop/shop.toml").write_text(shop, encoding="utf-8")
        (tmp_path / "kubernetes/public/keys").write_text(keys, encoding="utf-8")
        file = tmp_path / "kubernetes/public/kustomization.yaml"
        if host:
            file.write_text(file.read_text(encoding="utf-8").replace("straps.example", host), encoding="utf-8")
        command = ["kubectl", "kustomize", str(tmp_path / "kubernetes" / folder)]
        done = subprocess.run(command, capture_output=True, text=True, check=True)
        resources = list(yaml.safe_load_all(done.stdout))
        for each in resources:
            kubernetes_validate.validate(each, "1.32", strict=True)
        return resources

    return built


def of_kind(resources, kind):
    (found,) = (each for each in resources if each["kind"] == kind)
    return found


def pod(resources):
    return of_kind(resources, "Deployment")["spec"]["template"]["spec"]


def volume(resources, name):
    return next(each for each in pod(resources)["volumes"] if each["name"] == name)


def test_a_new_shop_file_makes_new_pods(build):
    build("base")
    assert volume(build("with-shop"), "shop") != volume(build("with-shop", shop="a = 2\n"), "shop")


def test_for_the_public_keys_are_a_secret_and_new_ones_make_new_pods(build):
    first = build("public")
    assert volume(first, "keys") != volume(build("public", keys="bb somebody\n"), "keys")
    assert volume(first, "keys")["secret"]["secretName"] == of_kind(first, "Secret")["metadata"]["name"]
    (container,) = pod(first)["containers"]
    settings = {each["name"]: each["value"] for each in container["env"]}
    (mount,) = (each for each in container["volumeMounts"] if each["name"] == "keys")
    assert settings["STRAP_KEYS_FILE"] == f"{mount['mountPath']}/keys"
    assert "STRAP_SHOP_FILE" in settings


def test_the_host_is_said_once(build):
    resources = build("public", host="straps.other.example")
    (container,) = pod(resources)["containers"]
    assert {"name": "STRAP_PUBLIC_URL", "value": "https://straps.other.example"} in container["env"]
    spec = of_kind(resources, "Ingress")["spec"]
    assert spec["rules"][0]["host"] == spec["tls"][0]["hosts"][0] == "straps.other.example"
