"""What is written down while the app runs: a rotating file for each process, without secrets."""

import re
from collections.abc import Iterable
from logging import Formatter, LogRecord
from pathlib import Path

HIDDEN = "***"
FILE_BYTES = 2 * 1024 * 1024
OLDER_FILES = 4

_NAMES = (
    r"pass(?:word|wd|phrase)?\d?|pwd|secret(?:[_-]?key)?|(?:[a-z]+[_-])?token|csrfmiddlewaretoken|csrftoken|"
    r"session(?:id|_key)?|api[_-]?key|authorization|set-cookie|cookie|one[_ -]?time[_ -]?code"
)
_PATTERNS = [
    (re.compile(r"(?i)\b([a-z][a-z0-9+.-]*://[^\s:/@]*):[^\s@]*@"), rf"\1:{HIDDEN}@"),
    (re.compile(r"(?i)\b(authorization|set-cookie|cookie)(\"|')?\s*[:=]\s*[^\r\n]+"), rf"\1: {HIDDEN}"),
    (
        re.compile(
            rf"(?i)(?<![a-z])({_NAMES})((?:\"|')?\s*(?:=>|[:=])\s*)(\[?\(?[bu]?)(\"[^\"]*\"|'[^']*'|[^\s,;&)\]}}]+)"
        ),
        rf"\1\2\3{HIDDEN}",
    ),
    (
        re.compile(r"(?<=[/=])(?=[A-Za-z0-9_-]*\d)(?=[A-Za-z0-9_-]*[A-Za-z])[A-Za-z0-9_-]{24,}(?![A-Za-z0-9_-]|\.\w)"),
        HIDDEN,
    ),
]


def without_secrets(text: str, known: Iterable[str] = ()) -> str:
    """The text with passwords, tokens, session ids, share addresses and database logins blotted out.

    Args:
        text: a line of the log, or a whole traceback.
        known: values that are hidden wherever they stand, as the secret key.
    """
    for value in known:
        text = text.replace(value, HIDDEN)
    for pattern, hidden in _PATTERNS:
        text = pattern.sub(hidden, text)
    return text


class SafeFormatter(Formatter):
    """Lines with the error number where the failed request has one; secrets are hidden in tracebacks too."""

    def __init__(self, *args: object, secrets: Iterable[str] = (), **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        self.known = [value for value in secrets if len(value) >= 6]

    def format(self, record: LogRecord) -> str:
        number = getattr(record, "error_number", None)
        number = number or getattr(getattr(record, "request", None), "error_number", None)
        record.number = f"error {number} " if number else ""
        return without_secrets(super().format(record), self.known)


class TerminalFormatter(SafeFormatter):
    """One line for the terminal; the traceback stands in the file."""

    def format(self, record: LogRecord) -> str:
        kept = record.exc_info, record.exc_text, record.stack_info
        record.exc_info = record.exc_text = record.stack_info = None
        try:
            return super().format(record)
        finally:
            record.exc_info, record.exc_text, record.stack_info = kept


def config(folder: Path, name: str, secrets: Iterable[str] = ()) -> dict[str, object]:
    """The logging settings of a process.

    Args:
        folder: where the log files lie; made if need be.
        name: name of this process's own file, since two processes cannot rotate one file on Windows;
            without a name nothing is written but to the terminal.
        secrets: values that are hidden wherever they stand.
    """
    secrets = [value for value in secrets if value]
    line = "%(asctime)s %(levelname)s %(name)s %(number)s%(message)s"
    handlers: dict[str, dict] = {
        "terminal": {
            "class": "logging.StreamHandler",
            "formatter": "terminal" if name else "line",
            "level": "ERROR" if name else "WARNING",
        }
    }
    if name:
        folder.mkdir(parents=True, exist_ok=True)
        handlers["file"] = {
            "class": "logging.handlers.RotatingFileHandler",
            "formatter": "line",
            "filename": folder / f"{name}.log",
            "maxBytes": FILE_BYTES,
            "backupCount": OLDER_FILES,
            "encoding": "utf-8",
            "delay": True,
        }
    return {
        "version": 1,
        "disable_existing_loggers": False,
        "formatters": {
            "line": {"()": SafeFormatter, "fmt": line, "secrets": secrets},
            "terminal": {"()": TerminalFormatter, "fmt": "%(number)s%(message)s", "secrets": secrets},
        },
        "handlers": handlers,
        "root": {"level": "INFO", "handlers": list(handlers)},
        "loggers": {
            "django": {"handlers": [], "level": "INFO", "propagate": True},
            "django.server": {"handlers": [], "level": "INFO", "propagate": True},
            "django_tasks_db": {"level": "WARNING"},
        },
    }
