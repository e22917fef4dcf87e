# To build on a base that stays the same: --build-arg BASE=docker.io/library/debian@sha256:… (its digest).
ARG BASE=docker.io/library/debian:12-slim
FROM ${BASE} AS build
# Debian's stable release moves by security fixes only, and a pinned version is gone with the next of them.
# hadolint ignore=DL3008
RUN apt-get update \
    && apt-get install -y --no-install-recommends python3 python3-venv libcairo2 \
    && rm -rf /var/lib/apt/lists/*
COPY deploy/requirements.txt deploy/image_root.sh /build/
RUN python3 -m venv /venv \
    && /venv/bin/python -m pip install --no-cache-dir --require-hashes --only-binary :all: \
        -r /build/requirements.txt \
    && /venv/bin/python -m pip uninstall -y setuptools pip
# Of the base only what is loaded goes on: no shell, no package manager, no perl. `sleep` is what a pod does before it stops.
RUN sh /build/image_root.sh /image /venv /usr/bin/python3 /usr/bin/python3.[0-9]* /usr/lib/python3.[0-9]* \
        /usr/lib/*/libcairo.so.2* /usr/bin/sleep \
    && /venv/bin/python -m compileall -q -s /image /image/venv /image/usr/lib

FROM scratch
COPY --from=build /image /
WORKDIR /app
COPY deploy/gunicorn.conf.py deploy/
COPY openapi/openapi.json openapi/
COPY openapi/rules openapi/rules
COPY service service
RUN ["/venv/bin/python", "-m", "compileall", "-q", "service"]
USER 10001:10001
ENV STRAP_BIND=0.0.0.0:8000 PYTHONUNBUFFERED=1
EXPOSE 8000
HEALTHCHECK --interval=10s --timeout=5s --start-period=20s \
    CMD ["/venv/bin/python", "-c", "import os, urllib.request as r; r.urlopen('http://127.0.0.1:' + os.environ['STRAP_BIND'].rpartition(':')[2] + '/health/live', timeout=4)"]
CMD ["/venv/bin/python", "-m", "gunicorn", "--config", "deploy/gunicorn.conf.py", "service.wsgi:app"]
