"""How gunicorn runs the service, whoever starts it: deploy/serve, the image or a unit file."""

import os

bind = os.environ.get("STRAP_BIND") or "127.0.0.1:8000"

worker_class = "gthread"
workers = 2
threads = 4
preload_app = True

# Nothing here is steered while it runs, so there is no socket to guard.
control_socket_disable = True

# The workers' heartbeat is a file: on a slow disk a write to it can stall a healthy worker.
worker_tmp_dir = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None
