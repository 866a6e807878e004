"""The shop's day in these tests: Wednesday, November 25, 2026."""

from datetime import date

import pytest
from pytest_django import Settings


@pytest.fixture(autouse=True)
def today(settings: Settings) -> date:
    settings.FIXED_TODAY = date(2026, 11, 25)
    return settings.FIXED_TODAY
