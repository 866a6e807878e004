"""`manage.py start`: everything it takes to run the app, in one command.

What is printed here stands in the terminal of whoever runs the shop's machine.
"""

import os
import secrets
import sqlite3
import sys
from argparse import ArgumentParser, ArgumentTypeError, Namespace
from contextlib import closing, suppress
from datetime import date
from pathlib import Path

import django
from django.core.exceptions import ImproperlyConfigured
from django.utils.translation import gettext as _

from workshop import server

BASE_DIR = Path(__file__).resolve().parent.parent
EVERYWHERE = ("0.0.0.0", "::")
THIS_MACHINE = ("localhost", "127.0.0.1", "::1")
LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"


class CannotStart(Exception):
    """The message says why, and what would do."""


def main(argv: list[str]) -> int:
    """Run the app until it is told to stop; return the exit code."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    options = _options(argv)
    folder = _prepare_environment(options)
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        django.setup()
    except (OSError, ImproperlyConfigured) as error:
        print(_untranslated(error, folder), file=sys.stderr)
        return 1
    try:
        with closing(hold(folder)):
            return _run(options, folder)
    except KeyboardInterrupt:
        return 130
    except (CannotStart, server.CannotOpen) as reason:
        print(reason, file=sys.stderr)
        return 1


def _untranslated(error: Exception, folder: Path) -> str:
    """What is said before there are settings, and so no language either."""
    if isinstance(error, ImproperlyConfigured):
        return str(error)
    return f"The folder {folder} cannot be used ({error}). Give another by --data, or mend its rights."


def _options(argv: list[str]) -> Namespace:
    """Read the command line. Its own words stay English: no settings are loaded yet."""
    parser = ArgumentParser(prog="manage.py start", description="Run Flitchbook.")
    parser.add_argument("--demo", action="store_true", help="open the demo job, in a data folder of its own")
    parser.add_argument("--port", type=_port, default=8000, help="port to listen on (8000)")
    parser.add_argument(
        "--host", default="127.0.0.1", help="address to listen on; 0.0.0.0 lets the phones of the shop in"
    )
    parser.add_argument("--data", type=Path, help="folder for the data (data, or data-demo with --demo)")
    parser.add_argument("--today", type=_date, help="for trials: the app's date, as 2027-03-01")
    parser.add_argument(
        "--no-backup", action="store_true", help="on PostgreSQL, update the database: you have backed it up"
    )
    return parser.parse_args(argv)


def _port(text: str) -> int:
    if not text.isdecimal() or int(text) > 65535:
        raise ArgumentTypeError(f"{text!r} is no port; write a number from 1 to 65535, as 8000 or 8080")
    return int(text)


def _date(text: str) -> str:
    try:
        return date.fromisoformat(text).isoformat()
    except ValueError as error:
        raise ArgumentTypeError(f"{text!r} is no date; write it as 2027-03-01, or leave it out") from error


def _prepare_environment(options: Namespace) -> Path:
    """Set what the settings and the workers read, before anything reads them; return the data folder."""
    environment = os.environ
    environment.setdefault("DJANGO_SETTINGS_MODULE", "workshop.settings")
    if options.demo:
        environment.pop("DATABASE_URL", None)
        folder = options.data or BASE_DIR / "data-demo"
    else:
        folder = options.data or Path(environment.get("FLITCHBOOK_DATA") or BASE_DIR / "data")
    folder = folder.expanduser().absolute()
    environment["FLITCHBOOK_DATA"] = str(folder)
    environment["FLITCHBOOK_LOG"] = "flitchbook"
    environment["DEBUG"] = "0"
    if options.today:
        environment["FLITCHBOOK_TODAY"] = options.today
    names = [environment.get("ALLOWED_HOSTS", ""), *hosts(options.host)]
    environment["ALLOWED_HOSTS"] = ",".join(filter(None, names))
    return folder


def hosts(host: str) -> list[str]:
    """The names under which browsers may ask for this server, besides this machine's own."""
    if host in EVERYWHERE:
        return server.lan_addresses() + server.names()
    return [_bracketed(host)]


def hold(folder: Path) -> sqlite3.Connection:
    """Take the data folder for this process; the operating system lets go of it when the process ends.

    Raises:
        CannotStart: another start holds it, or it cannot be written.
    """
    try:
        lock = sqlite3.connect(folder / "in-use.lock", timeout=0, isolation_level=None, check_same_thread=False)
        try:
            lock.execute("BEGIN EXCLUSIVE")
        except sqlite3.OperationalError as error:
            lock.close()
            if "locked" in str(error):
                raise CannotStart(_in_use(folder)) from error
            raise
    except sqlite3.Error as error:
        raise CannotStart(
            _("The folder %(folder)s cannot be used (%(why)s). Give another by --data, or mend its rights.")
            % {"folder": folder, "why": error}
        ) from error
    return lock


def _in_use(folder: Path) -> str:
    address = ""
    with suppress(OSError):
        address = (folder / "address.txt").read_text(encoding="utf-8").strip()
    return _(
        "Flitchbook runs already on the data in %(folder)s. Open %(address)s, "
        "or give this one a folder of its own by --data."
    ) % {"folder": folder, "address": address or _("its page")}


def keep_demo_apart(folder: Path, *, demo: bool) -> None:
    """Mark a folder as the demo's, and keep the demo and a shop's own data from ever sharing one.

    Raises:
        CannotStart: the folder is the other one's.
    """
    mark = folder / "demo.txt"
    if demo and not mark.exists() and (folder / "flitchbook.sqlite3").exists():
        raise CannotStart(
            _("%(folder)s holds a shop's own data. Start the demo with another folder, or leave --demo out.")
            % {"folder": folder}
        )
    if not demo and mark.exists():
        raise CannotStart(
            _("%(folder)s holds the demo. Start it with --demo, or give your data another folder by --data.")
            % {"folder": folder}
        )
    if demo:
        mark.write_text("This folder holds the demo. It may be deleted.\n", encoding="utf-8")


def _run(options: Namespace, folder: Path) -> int:
    server.check_free(options.host, options.port)
    keep_demo_apart(folder, demo=options.demo)
    from django.db import connections
    from django.urls import get_resolver

    from workshop import worker
    from workshop.wsgi import application

    get_resolver().url_patterns  # noqa: B018 - what is wrong with a module shows now, not at the first visit
    _bring_up_to_date(backed_up=options.no_backup)
    if options.demo:
        _load_demo()
    connections.close_all()
    page_server = server.make(application, options.host, options.port)
    workers = worker.Workers()
    try:
        workers.start()
        _welcome(options.host, page_server.bind_addr[1], folder)
        server.serve(page_server)
    finally:
        page_server.stop()
        workers.stop()
        (folder / "address.txt").unlink(missing_ok=True)
    say(_("Stopped."))
    return 0


def _bring_up_to_date(*, backed_up: bool) -> None:
    from django.db import DatabaseError

    from workshop import backups, logs, upgrades

    try:
        backup = upgrades.bring_up_to_date(backed_up=backed_up)
    except (upgrades.Refused, backups.NotBackedUp) as reason:
        raise CannotStart(str(reason)) from reason
    except DatabaseError as error:
        raise CannotStart(
            _(
                "The database does not do its part (%(why)s). See that it runs and DATABASE_URL is right, "
                "or that the disk has room."
            )
            % {"why": logs.without_secrets(str(error).strip())}
        ) from error
    if backup:
        say(_("The database was updated. As it was before, it lies in %(path)s") % {"path": backup})


def _load_demo() -> None:
    from workshop.front import demo

    password = os.environ.get("DEMO_PASSWORD") or "".join(secrets.choice(LETTERS) for _letter in range(12))
    demo.load(password)
    say(
        _("The demo is loaded. Sign in as %(name)s with the password %(password)s")
        % {"name": "demo", "password": password}
    )


def _welcome(host: str, port: int, folder: Path) -> None:
    """Print where the app is to be found, and what the first person to sign in needs."""
    from django.conf import settings
    from django.contrib.auth import get_user_model
    from django.urls import reverse

    from workshop import first_start

    outside = server.lan_addresses() if host in EVERYWHERE else [host] if host not in THIS_MACHINE else []
    here = "127.0.0.1" if host in EVERYWHERE else host
    address = f"http://{_bracketed(here)}:{port}"
    (folder / "address.txt").write_text(f"{address}/\n", encoding="utf-8")
    say(_("Flitchbook runs at %(address)s") % {"address": f"{address}/"})
    for other in outside:
        if other != here:
            say(_("On this network: %(address)s") % {"address": f"http://{_bracketed(other)}:{port}/"})
    if settings.PUBLIC_URL:
        say(_("Links and codes carry %(address)s") % {"address": f"{settings.PUBLIC_URL}/"})
    elif outside:
        say(
            _(
                "PUBLIC_URL is not set: links and codes carry no address, and over http a phone can neither "
                "keep the app nor work without signal."
            )
        )
    if not get_user_model().objects.exists():
        page = f"{settings.PUBLIC_URL or address}{reverse('front:first_start')}"
        say(_("Nobody has an account yet. Make the owner's at %(page)s") % {"page": page})
        say(_("The one-time code for it is %(code)s") % {"code": first_start.code()})
    say(_("To stop it, press Ctrl-C."))


def _bracketed(host: str) -> str:
    return f"[{host}]" if ":" in host else host


def say(words: str) -> None:
    print(words, flush=True)
