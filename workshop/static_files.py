"""Static files under addresses that change with their content, so that browsers may keep them."""

from functools import lru_cache
from hashlib import sha256
from pathlib import Path

from django.contrib.staticfiles import finders
from django.contrib.staticfiles.storage import StaticFilesStorage


@lru_cache(maxsize=256)
def _version(name: str) -> str:
    path = finders.find(name)
    return sha256(Path(path).read_bytes()).hexdigest()[:10] if path else "0"


class VersionedStaticFiles(StaticFilesStorage):
    def url(self, name: str | None, force: bool = False) -> str:
        return f"{super().url(name)}?v={_version(name)}" if name else super().url(name)
