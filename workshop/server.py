"""The web server: eight threads, bounded requests, the same on Linux, macOS and Windows.

It can speak TLS itself: a certificate is one `ssl_adapter` on the server made here.
"""

import errno
import logging
import os
import signal
import socket
import sys
import threading
import time
from collections.abc import Callable, Iterable
from contextlib import suppress

from cheroot.server import HeaderReader, HTTPConnection, HTTPRequest
from cheroot.wsgi import Server
from django.utils.translation import gettext as _

THREADS = 8
LARGEST_REQUEST_BYTES = 25 * 1024 * 1024
LARGEST_HEADER_BYTES = 256 * 1024
LONGEST_READ_OFF_SECONDS = 20

log = logging.getLogger("workshop.server")

Application = Callable[[dict, Callable], Iterable[bytes]]


class CannotOpen(Exception):
    """The address cannot be listened on; the message says why and names two ways out."""


class HyphenatedNames(HeaderReader):
    """Drops names with an underscore, which WSGI cannot tell from a proxy's own with a hyphen."""

    def _allow_header(self, key_name: bytes) -> bool:
        return b"_" not in key_name


class BoundedRequest(HTTPRequest):
    header_reader = HyphenatedNames()

    def respond(self) -> None:
        if self.chunked_read:
            self.close_connection = True
            self.simple_response("411 Length Required", _("The request gave no length. Nothing was saved."))
        elif int(self.inheaders.get(b"Content-Length", 0)) < 0:
            self.close_connection = True
            self.simple_response("400 Bad Request", _("The request gave a length below 0. Nothing was saved."))
        else:
            super().respond()

    def simple_response(self, status: str, msg: str = "") -> None:
        if str(status).startswith("413") and self.inheaders:
            self._read_off()
            msg = _("What was sent is over %(limit)d MB. Nothing was saved. Go back, send fewer or smaller files.")
            msg %= {"limit": LARGEST_REQUEST_BYTES // 1024**2}
        super().simple_response(status, msg)

    def _read_off(self) -> None:
        """Take in what the browser still sends, within bounds: it shows no answer before it has sent all."""
        left = min(int(self.inheaders.get(b"Content-Length", 0)), 10 * LARGEST_REQUEST_BYTES)
        until = time.monotonic() + LONGEST_READ_OFF_SECONDS
        while left > 0 and time.monotonic() < until:
            data = self.conn.rfile.read(min(left, 65536))
            if not data:
                return
            left -= len(data)


class BoundedConnection(HTTPConnection):
    RequestHandlerClass = BoundedRequest


class PageServer(Server):
    ConnectionClass = BoundedConnection
    max_request_body_size = LARGEST_REQUEST_BYTES
    max_request_header_size = LARGEST_HEADER_BYTES
    keep_alive_conn_limit = 200

    def error_log(self, msg: str = "", level: int = logging.INFO, traceback: bool = False) -> None:
        log.log(level, "%s", msg, exc_info=traceback)


def check_free(host: str, port: int) -> None:
    """Try whether the address can be listened on, and let go of it again.

    Raises:
        CannotOpen: the port is taken, needs more rights, or the host is not an address of this machine.
    """
    try:
        family, kind, proto, _name, address = socket.getaddrinfo(
            host, port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE
        )[0]
        with socket.socket(family, kind, proto) as trial:
            if sys.platform != "win32":
                trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            trial.bind(address)
            trial.listen()
    except OSError as error:
        raise CannotOpen(_why(error, host, port)) from error


def _why(error: OSError, host: str, port: int) -> str:
    if isinstance(error, socket.gaierror) or error.errno in (errno.EADDRNOTAVAIL, errno.EINVAL):
        return _(
            "%(host)s is no address of this machine. Use --host 0.0.0.0 for all its addresses, "
            "or leave --host out for this machine alone."
        ) % {"host": host}
    if error.errno in (errno.EACCES, errno.EPERM) and port < 1024:
        return _(
            "Port %(port)d may be opened by an administrator only. Use one from 1024 up, as --port 8000, "
            "or put a proxy in front."
        ) % {"port": port}
    return _(
        "Port %(port)d is taken by another program, or by a Flitchbook that still runs. "
        "Stop that one, or start here with --port %(other)d."
    ) % {"port": port, "other": port + 1 if port < 65535 else port - 1}


def make(application: Application, host: str, port: int) -> PageServer:
    """A server that listens already and has its threads, but answers only once `serve` runs.

    Raises:
        CannotOpen: as `check_free`.
    """
    server = PageServer(
        (host, port),
        application,
        numthreads=THREADS,
        max=THREADS,
        server_name="Flitchbook",
        request_queue_size=128,
        timeout=30,
        shutdown_timeout=10,
    )
    check_free(host, port)
    try:
        server.prepare()
    except OSError as error:
        raise CannotOpen(_why(error, host, port)) from error
    return server


def serve(server: PageServer) -> None:
    """Answer requests until Ctrl-C or a signal to end; pages begun are finished, unless it comes twice."""
    stopper = threading.Thread(target=server.stop)

    def stop(*_args: object) -> None:
        if stopper.ident:
            os._exit(1)
        stopper.start()

    for name in ("SIGINT", "SIGTERM", "SIGBREAK"):
        if hasattr(signal, name):
            signal.signal(getattr(signal, name), stop)
    server.serve()
    if stopper.ident:
        stopper.join()


def lan_addresses() -> list[str]:
    """The IPv4 addresses under which other devices may reach this machine, the likeliest first."""
    found = []
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe, suppress(OSError):
        probe.connect(("192.0.2.1", 9))  # sends nothing; only asks which address would be used
        found.append(probe.getsockname()[0])
    with suppress(OSError):
        found += socket.gethostbyname_ex(socket.gethostname())[2]
    return [address for address in dict.fromkeys(found) if not address.startswith(("127.", "0."))]


def names() -> list[str]:
    """The names under which other devices may know this machine."""
    name = socket.gethostname().lower()
    return [name, f"{name.split('.')[0]}.local"] if name else []
