"""The entry of a WSGI server: `service.wsgi:app`."""

from service.app import start

app = start()
