"""The app as a process of its own, for tests of its start and end."""

import json
import os
import re
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from threading import Thread
from urllib.request import urlopen

from django.conf import settings

MANAGE = Path(settings.BASE_DIR) / "manage.py"
PATIENCE = 60


def command(*arguments: object) -> list[str]:
    return [sys.executable, str(MANAGE), *map(str, arguments)]


def environment(**more: str) -> dict[str, str]:
    """This process's, without what would lead the app to other data."""
    ours = ("DATABASE_URL", "PUBLIC_URL", "FLITCHBOOK_DATA", "FLITCHBOOK_LOG", "PYTHONIOENCODING")
    return {name: value for name, value in os.environ.items() if name not in ours} | more


def run(*arguments: object, **more: str) -> subprocess.CompletedProcess[bytes]:
    """Run a command to its end, which comes by itself or is a failure."""
    return subprocess.run(
        command(*arguments), env=environment(**more), capture_output=True, timeout=PATIENCE, check=False
    )


def wait_for(look: Callable[[], object]) -> object:
    until = time.monotonic() + PATIENCE
    while time.monotonic() < until:
        if found := look():
            return found
        time.sleep(0.1)
    raise AssertionError(f"waited {PATIENCE} s in vain")


class Running:
    """A started app: what it printed, where it answers, how it is stopped."""

    def __init__(self, data: Path, *arguments: object, **more: str) -> None:
        self.data = data
        flags = {"creationflags": subprocess.CREATE_NEW_PROCESS_GROUP} if sys.platform == "win32" else {}
        self.process = subprocess.Popen(
            command("start", "--port", 0, "--data", data, *arguments),
            env=environment(**more),
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            **flags,
        )
        self.printed = ""
        self.reader = Thread(target=self._read, daemon=True)
        self.reader.start()
        wait_for(lambda: "Ctrl-C" in self.printed or self.process.poll() is not None)
        assert self.process.poll() is None, self.printed
        self.address = re.search(r"http://127\.0\.0\.1:\d+/", self.printed)[0]
        self.port = int(self.address.split(":")[2].strip("/"))

    def _read(self) -> None:
        for line in self.process.stdout:
            self.printed += line.decode(errors="replace")

    def stop(self) -> int:
        self.process.send_signal(signal.CTRL_BREAK_EVENT if sys.platform == "win32" else signal.SIGTERM)
        code = self.process.wait(PATIENCE)
        self.reader.join(PATIENCE)
        return code

    def health(self) -> dict:
        with urlopen(f"{self.address}health", timeout=PATIENCE) as answer:
            return json.load(answer)

    def send(self, request: bytes) -> bytes:
        with socket.create_connection(("127.0.0.1", self.port), timeout=PATIENCE) as line:
            line.sendall(request)
            line.settimeout(PATIENCE)
            answer = b""
            while data := line.recv(65536):
                answer += data
            return answer

    def worker(self, group: str) -> int:
        """The number of the process that does this group's work; 0 while there is none."""
        with suppress(OSError, ValueError):
            return int((self.data / "workers" / f"{group}.beat").read_text(encoding="utf-8"))
        return 0


def lives(process: int) -> bool:
    """Whether the process is there; never on Windows, which has no such question that does no harm."""
    if sys.platform == "win32":
        return False
    try:
        os.kill(process, 0)
    except OSError:
        return False
    return True
