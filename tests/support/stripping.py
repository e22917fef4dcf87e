"""A proxy that serves the service below a path and takes that path away before it asks, as a WSGI application."""

from werkzeug.wrappers import Response

PREFIX = "/straps"


class Stripping:
    """Everything else at the host is somebody else's: 404, and remembered. `says` are headers that it sends."""

    def __init__(self, app, prefix=PREFIX, **says):
        self.app, self.prefix, self.says, self.elsewhere = app, prefix, says, []

    def __call__(self, environ, start):
        path = environ["PATH_INFO"]
        if not path.startswith(f"{self.prefix}/"):
            self.elsewhere.append(path)
            return Response("another site", 404)(environ, start)
        asked = environ | {"PATH_INFO": path[len(self.prefix) :], "SCRIPT_NAME": ""} | self.says
        return self.app(asked, start)
