"""Requests as they stand, sent without a client that would put them in order."""

import socket


def send(port: int, text: bytes, seconds: float = 10.0) -> bytes:
    """All that comes back until the server closes; what came so far where it does not."""
    got = b""
    with socket.create_connection(("127.0.0.1", port), timeout=seconds) as connection:
        try:
            connection.sendall(text)
            while chunk := connection.recv(65_536):
                got += chunk
        except OSError:
            return got
    return got


def get(port: int, target: str, *fields: str, host: str = "localhost") -> tuple[int, bytes]:
    """Status and all of the answer to a GET of a target as it stands; status 0 where there is no answer."""
    lines = (f"GET {target} HTTP/1.1", f"Host: {host}", "Connection: close", *fields)
    got = send(port, "".join(f"{line}\r\n" for line in lines).encode("latin-1") + b"\r\n")
    return int(got.split(b" ", 2)[1]) if got.startswith(b"HTTP/1.") else 0, got


def head(got: bytes, name: str) -> list[str]:
    """Every value of one field of an answer."""
    lines = got.partition(b"\r\n\r\n")[0].decode("latin-1").split("\r\n")[1:]
    pairs = (line.partition(":") for line in lines)
    return [value.strip() for found, _, value in pairs if found.lower() == name.lower()]
