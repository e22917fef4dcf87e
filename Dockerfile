FROM debian:12-slim AS build
# Debian's stable release moves by security fixes only, and a pinned version is gone with the next of them.
# hadolint ignore=DL3008
RUN apt-get update \
    && apt-get install -y --no-install-recommends python3 python3-venv \
    && rm -rf /var/lib/apt/lists/*
COPY deploy/requirements.txt /build/
RUN python3 -m venv /venv \
    && /venv/bin/python -m pip install --no-cache-dir --require-hashes --only-binary :all: \
        -r /build/requirements.txt \
    && /venv/bin/python -m pip uninstall -y setuptools pip

FROM debian:12-slim
# hadolint ignore=DL3008
RUN apt-get update \
    && apt-get install -y --no-install-recommends python3 libcairo2 \
    && rm -rf /var/lib/apt/lists/*
COPY --from=build /venv /venv
WORKDIR /app
COPY deploy/gunicorn.conf.py deploy/
COPY openapi openapi
COPY service service
RUN python3 -m compileall -q service
USER 10001:10001
ENV STRAP_BIND=0.0.0.0:8000 PYTHONUNBUFFERED=1
EXPOSE 8000
HEALTHCHECK --interval=10s --timeout=5s --start-period=20s \
    CMD ["/venv/bin/python", "-c", "import os, urllib.request as r; r.urlopen('http://127.0.0.1:' + os.environ['STRAP_BIND'].rpartition(':')[2] + '/health/live', timeout=4)"]
CMD ["/venv/bin/python", "-m", "gunicorn", "--config", "deploy/gunicorn.conf.py", "service.wsgi:app"]
