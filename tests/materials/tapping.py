"""The sorting pad as a person uses it, and its answers read back."""

import re

from django.http import HttpResponse
from django.test import Client as Browser
from django.urls import reverse

from materials.models import Lot, Sheet, ToneGroup
from tests.makers import post

PALE, CREAM, HONEY, BROWN = range(4)


def pad(lot: Lot, query: str = "") -> str:
    return reverse("materials:sort", args=[lot.pk]) + query


def sheet(lot: Lot, number: int) -> Sheet:
    return lot.sheets.select_related("lot__material", "tone_group").get(number=number)


def tap(browser: Browser, lot: Lot, number: int, group: ToneGroup, htmx: bool = True, **data: object) -> HttpResponse:
    url = reverse("materials:sheet_sort", args=[sheet(lot, number).pk])
    return post(browser, url, htmx=htmx, group=group.pk, **data)


def aside(browser: Browser, lot: Lot, number: int, **data: object) -> HttpResponse:
    return post(browser, reverse("materials:sheet_set_aside", args=[sheet(lot, number).pk]), htmx=True, **data)


def words(answer: HttpResponse) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", answer.content.decode()).split())


def in_hand(answer: HttpResponse) -> int:
    return int(re.search(r'id="in-hand">.*?</span>(\d+)<', answer.content.decode())[1])
