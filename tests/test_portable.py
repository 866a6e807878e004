"""What would break on Windows or macOS, or on a machine set up otherwise, held where it can be held here.

Reserved names and signs: Microsoft, "Naming Files, Paths, and Namespaces". POSIX-only names: the Python library
reference, "Availability: Unix".
"""

import ast
import re
import subprocess
from pathlib import Path

import pytest

from tests import layout
from tests.layout import PACKAGES, ROOT, path_of

FILES = [pytest.param(file, id=path_of(file)) for file in [*layout.modules(*PACKAGES, "tests"), ROOT / "manage.py"]]
UNIX_ONLY = {
    "os": {"fork", "forkpty", "getuid", "geteuid", "getgid", "setuid", "nice", "killpg", "setsid", "getpgid"}
    | {"mkfifo", "chown", "getloadavg", "uname", "pathconf", "sysconf", "statvfs", "wait", "wait3", "wait4"},
    "signal": {"SIGKILL", "SIGHUP", "SIGUSR1", "SIGUSR2", "SIGALRM", "SIGCHLD", "SIGQUIT", "SIGPIPE", "alarm", "pause"},
    "time": {"tzset", "clock_gettime"},
    "socket": {"AF_UNIX"},
}
UNIX_MODULES = {"fcntl", "pwd", "grp", "resource", "termios", "tty", "pty", "syslog", "posix", "spwd", "crypt"}
NOT_IN_PYTHON_3_11 = {"tomllib_w", "distutils", "imp", "asyncore"}
GUARD = r"hasattr\(|sys\.platform|os\.name"
FORBIDDEN_SIGNS = re.compile(r'[<>:"\\|?*\x00-\x1f]|[ .]$|[^\x00-\x7f]')
RESERVED = re.compile(r"(?i)^(con|prn|aux|nul|com[0-9]|lpt[0-9])(\..*)?$")
BINARY = {".gz", ".woff2", ".ttf", ".png", ".sqlite3", ".mo", ".pdf", ".ico"}


def calls(file: Path) -> list[ast.Call]:
    return [node for node in ast.walk(layout.tree(file)) if isinstance(node, ast.Call)]


def name_of(call: ast.Call) -> str:
    return getattr(call.func, "attr", None) or getattr(call.func, "id", "")


def is_binary(call: ast.Call) -> bool:
    given = [*call.args, *(keyword.value for keyword in call.keywords if keyword.arg == "mode")]
    modes = [each.value for each in given if isinstance(each, ast.Constant) and isinstance(each.value, str)]
    return any(re.fullmatch(r"[rwxab+]*b[rwxab+]*", mode) for mode in modes)


def is_file_opened(call: ast.Call) -> bool:
    """A call of open or fdopen, or of a path's own open; rows have an open of their own, which takes nothing."""
    if isinstance(call.func, ast.Name):
        return call.func.id == "open"
    owner = ast.unparse(getattr(call.func, "value", call.func))
    is_path = bool(call.args or call.keywords) or re.search(r"(?i)path|file", owner)
    is_open = name_of(call) == "open" and bool(is_path) and owner not in ("os", "webbrowser", "Image")
    return is_open or name_of(call) == "fdopen"


def kept_files() -> list[str]:
    """Every file of the project that git keeps or would keep."""
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        encoding="utf-8",
    )
    if listed.returncode:
        pytest.skip("this is no git checkout, so nobody says which files belong to the project")
    return sorted(name for name in set(listed.stdout.splitlines()) if (ROOT / name).is_file())


# What the code calls


@pytest.mark.parametrize("file", FILES)
def test_every_text_file_is_opened_with_its_encoding(file: Path) -> None:
    texts = {"read_text", "write_text", "NamedTemporaryFile", "TemporaryFile"}
    untold = [
        f"line {call.lineno}"
        for call in calls(file)
        if (name_of(call) in texts or is_file_opened(call))
        and not is_binary(call)
        and "encoding" not in {keyword.arg for keyword in call.keywords}
    ]

    assert untold == []


@pytest.mark.parametrize("file", FILES)
def test_what_another_program_prints_is_read_with_its_encoding(file: Path) -> None:
    untold = [
        f"line {call.lineno}"
        for call in calls(file)
        if {keyword.arg for keyword in call.keywords} & {"text", "universal_newlines"}
        and isinstance(call.func, ast.Attribute)
        and getattr(call.func.value, "id", "") == "subprocess"
        and "encoding" not in {keyword.arg for keyword in call.keywords}
    ]

    assert untold == []


def guarded(file: Path) -> set[int]:
    """The lines that run only where what they call is there."""
    lines: set[int] = set()
    for node in ast.walk(layout.tree(file)):
        if isinstance(node, ast.If | ast.IfExp) and re.search(GUARD, ast.unparse(node.test)):
            lines |= set(range(node.lineno, (node.end_lineno or node.lineno) + 1))
    return lines


@pytest.mark.parametrize("file", FILES)
def test_nothing_that_only_unix_has_is_called_unguarded(file: Path) -> None:
    safe = guarded(file)
    found = [
        f"line {node.lineno}: {node.value.id}.{node.attr}"
        for node in ast.walk(layout.tree(file))
        if isinstance(node, ast.Attribute)
        and isinstance(node.value, ast.Name)
        and node.attr in UNIX_ONLY.get(node.value.id, ())
        and node.lineno not in safe
    ]

    assert found == []


@pytest.mark.parametrize("file", FILES)
def test_no_module_that_only_unix_has_is_imported(file: Path) -> None:
    imported = {name.split(".")[0] for name in layout.imported(file)}

    assert imported & (UNIX_MODULES | NOT_IN_PYTHON_3_11) == set()


@pytest.mark.parametrize("file", FILES)
def test_no_path_of_one_machine_stands_in_the_code(file: Path) -> None:
    found = [
        f"line {node.lineno}: {node.value[:40]!r}"
        for node in ast.walk(layout.tree(file))
        if isinstance(node, ast.Constant)
        and isinstance(node.value, str)
        and re.match(r"(/(tmp|home|root|work|usr|etc|var|opt|dev|proc)(/|$)|[A-Za-z]:[\\/](?!/)|~/)", node.value)
    ]

    allowed = path_of(file) in ("tests/test_portable.py",)
    assert found == [] or allowed


@pytest.mark.parametrize("file", FILES)
def test_no_program_is_started_through_a_shell(file: Path) -> None:
    found = [
        f"line {call.lineno}"
        for call in calls(file)
        if any(keyword.arg == "shell" and getattr(keyword.value, "value", True) for keyword in call.keywords)
        or (name_of(call) in ("system", "popen") and getattr(getattr(call.func, "value", None), "id", "") == "os")
    ]

    assert found == []


@pytest.mark.parametrize("file", FILES)
def test_dates_are_written_with_signs_every_system_knows(file: Path) -> None:
    found = [
        node.value
        for node in ast.walk(layout.tree(file))
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and re.search(r"%-[dmHIMSjyY]", node.value)
    ]

    assert found == [] or path_of(file) == "tests/test_portable.py"


# What the files are called, and what is in them


def test_every_file_has_a_name_windows_allows() -> None:
    wrong = [
        name
        for name in kept_files()
        for part in name.split("/")
        if RESERVED.match(part) or FORBIDDEN_SIGNS.search(part)
    ]

    assert wrong == []


def test_no_two_names_differ_by_capitals_alone() -> None:
    names = kept_files()

    assert len({name.casefold() for name in names}) == len(names)


def test_no_path_is_too_long_for_windows() -> None:
    assert [name for name in kept_files() if len(name) > 120] == []


def test_no_file_is_a_link_to_another() -> None:
    assert [name for name in kept_files() if (ROOT / name).is_symlink()] == []


def test_text_files_are_utf_8_with_plain_line_ends() -> None:
    wrong = []
    for name in kept_files():
        if Path(name).suffix in BINARY:
            continue
        data = (ROOT / name).read_bytes()
        try:
            data.decode("utf-8")
        except UnicodeDecodeError:
            wrong.append(name)
        if b"\r\n" in data or data.startswith(b"\xef\xbb\xbf"):
            wrong.append(name)

    assert wrong == []


def test_git_keeps_the_line_ends_on_every_system() -> None:
    rules = (ROOT / ".gitattributes").read_text(encoding="utf-8").splitlines()

    assert "* text=auto eol=lf" in rules
    kinds = {Path(name).suffix for name in kept_files()} & BINARY
    assert {f"*{kind} binary" for kind in kinds} <= set(rules)


@pytest.mark.parametrize("file", ["requirements.txt", "tests/requirements.txt"])
def test_every_package_is_pinned(file: str) -> None:
    lines = (ROOT / file).read_text(encoding="utf-8").splitlines()
    packages = [line.split(";")[0].strip() for line in lines if line.strip() and not line.startswith(("#", "-r"))]

    assert [package for package in packages if not re.fullmatch(r"[\w.\[\]-]+==[\w.]+", package)] == []


def test_no_file_names_a_machine_or_a_place_beside_the_project() -> None:
    beside = re.compile(r"\.\./shared|/work/main|/root/")
    found = [
        name
        for name in kept_files()
        if Path(name).suffix not in BINARY and name != "tests/test_portable.py"
        if beside.search((ROOT / name).read_text(encoding="utf-8"))
    ]

    assert found == []
