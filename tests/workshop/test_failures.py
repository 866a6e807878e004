"""The page for what nobody foresaw: a number on it, the same in the log, also while the database is down.

No test here may use the database, and pytest-django refuses it to them: that is the proof.
"""

import logging

import pytest
from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.test import Client as Browser
from django.urls import path

from workshop import failures, logs


@login_not_required
def boom(_request: HttpRequest) -> HttpResponse:
    raise ZeroDivisionError("a width of nothing")


urlpatterns = [path("boom/", boom)]
handler500 = "workshop.failures.server_error"

pytestmark = pytest.mark.urls("tests.workshop.test_failures")


def fail(**headers: str) -> HttpResponse:
    return Browser(raise_request_exception=False).get("/boom/", headers=headers)


def test_the_page_shows_a_number_that_can_be_read_aloud() -> None:
    answer = fail()

    number = answer.headers["Error-Number"]
    assert answer.status_code == 500
    assert number in answer.content.decode()
    assert len(number) == 6
    assert set(number) <= set("ABCDEFGHJKLMNPQRSTUVWXYZ23456789")


def test_numbers_differ() -> None:
    assert len({failures.new_number() for _number in range(1000)}) == 1000


def test_the_line_with_the_traceback_carries_the_same_number(caplog: pytest.LogCaptureFixture) -> None:
    number = fail().headers["Error-Number"]

    record = next(record for record in caplog.records if record.name == "django.request")
    line = logs.SafeFormatter("%(number)s%(message)s").format(record)
    assert line.startswith(f"error {number} Internal Server Error: /boom/")
    assert "ZeroDivisionError: a width of nothing" in line


def test_the_page_tells_nothing_of_the_program() -> None:
    page = fail().content.decode()

    assert not any(word in page for word in ("ZeroDivisionError", "Traceback", "a width of nothing", "boom"))


def test_a_page_comes_even_when_its_template_fails(
    monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def broken(*_args: object) -> str:
        raise OSError("templates are gone")

    monkeypatch.setattr(failures, "render_to_string", broken)

    answer = fail()

    assert answer.status_code == 500
    assert answer.headers["Error-Number"] in answer.content.decode()
    assert "the error page itself failed" in [
        record.message for record in caplog.records if record.levelno == logging.ERROR
    ]
