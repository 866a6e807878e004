import signal
import threading
from argparse import ArgumentParser

from django.core.management.base import BaseCommand

from workshop import worker


class Command(BaseCommand):
    help = "Do long work: documents, plans, backups. `start` runs one of each group; more of them may run."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("group", choices=worker.GROUPS)
        parser.add_argument(
            "--with-parent", action="store_true", help="end when the standard input ends, as `start` needs it"
        )

    def handle(self, *, group: str, with_parent: bool, **_options: object) -> None:
        ending = threading.Event()
        for name in ("SIGINT", "SIGTERM", "SIGBREAK"):
            if hasattr(signal, name):
                signal.signal(getattr(signal, name), lambda *_args: ending.set())
        worker.be_nice()
        if with_parent:
            worker.end_with_parent(ending)
        worker.run(group, ending)
