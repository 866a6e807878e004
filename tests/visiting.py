"""A person at a running server, without a browser: keeps the cookies, follows nothing, counts nothing."""

import re
import time
from dataclasses import dataclass
from http.client import HTTPConnection
from urllib.parse import urlencode, urljoin, urlsplit

from tests.pages import Form, Page

PATIENCE = 30
IDLE_SECONDS = 10


@dataclass(frozen=True)
class Answer:
    status: int
    headers: dict[str, str]
    body: bytes

    @property
    def text(self) -> str:
        return self.body.decode(errors="replace")

    @property
    def leads_to(self) -> str:
        return self.headers.get("location", "")

    @property
    def page(self) -> Page:
        return Page(self.text)


class Visitor:
    def __init__(self, address: str, cookies: dict[str, str] | None = None) -> None:
        self.address = address
        self.host = urlsplit(address).netloc
        self.cookies = dict(cookies or {})
        self.line = HTTPConnection(self.host, timeout=PATIENCE)
        self.asked = 0.0

    def another(self) -> "Visitor":
        """The same person with a line of their own."""
        return Visitor(self.address, self.cookies)

    def ask(self, method: str, path: str, data: bytes | None = None, **headers: str) -> Answer:
        sent = {"Cookie": "; ".join(f"{name}={value}" for name, value in self.cookies.items()), **headers}
        if data is not None:
            sent["Content-Type"] = "application/x-www-form-urlencoded"
        if time.monotonic() - self.asked > IDLE_SECONDS:
            self.line.close()  # the server lets go of a line that is silent; the next request opens it anew
        self.asked = time.monotonic()
        self.line.request(method, path, body=data, headers=sent)
        answer = self.line.getresponse()
        body = answer.read()
        for cookie in answer.headers.get_all("Set-Cookie") or []:
            name, value = re.match(r"([^=]+)=([^;]*)", cookie).groups()
            self.cookies[name] = value
        return Answer(answer.status, {name.lower(): value for name, value in answer.headers.items()}, body)

    def get(self, path: str) -> Answer:
        return self.ask("GET", path)

    def send(self, path: str, data: dict[str, object], **headers: str) -> Answer:
        return self.ask("POST", path, urlencode(data, doseq=True).encode(), **headers)

    def fill(self, path: str, **typed: object) -> Answer:
        """Open a page, fill the first form that has these fields, send it."""
        form = self.form(path, *typed)
        return self.send(urljoin(path, form.action), form.sent() | typed)

    def form(self, path: str, *names: str) -> Form:
        opened = self.get(path)
        assert opened.status == 200, f"{path} answered {opened.status}"
        has = [form for form in opened.page.changing if all(name in form.fields for name in names)]
        assert has, f"{path} has no form with {names}"
        return has[0]

    def sign_in(self, username: str, password: str) -> "Visitor":
        answer = self.fill("/login/", username=username, password=password)
        assert answer.status == 302, "not signed in"
        return self
