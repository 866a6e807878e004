"""Which big tables a page reads from end to end without an index, by SQLite's own plan of each of its queries."""

import re
from collections.abc import Iterable

from django.apps import apps
from django.db import connection

BIG = 1_000
_SCAN = re.compile(r"SCAN (\w+)(?! CONSTANT)( USING (?:COVERING )?INDEX)?")
_NAMED = re.compile(r'(?:FROM|JOIN) "(\w+)"(?: "?([A-Z]\w*)"?)?')


def big_tables() -> set[str]:
    """The tables with so many rows that reading one for a page must be noticed."""
    sizes = {model._meta.db_table: model._base_manager.count() for model in apps.get_models()}
    return {table for table, rows in sizes.items() if rows >= BIG}


def scanned(queries: Iterable[str], big: set[str]) -> set[str]:
    """The big tables that one of these queries reads row by row, where no index gives it what it asks for."""
    found: set[str] = set()
    for sql in queries:
        if not sql.startswith("SELECT"):
            continue
        names = _tables(sql)
        with connection.cursor() as cursor:
            cursor.execute("EXPLAIN QUERY PLAN " + sql.replace("%", "%%"), ())
            steps = [row[3] for row in cursor.fetchall()]
        if " LIMIT " in sql and not any("TEMP B-TREE" in step for step in steps):
            steps = steps[1:]  # the first is read in the order of its keys, as far as the page goes
        for step in steps:
            scan = _SCAN.match(step)
            if scan and not scan[2]:
                found |= names.get(scan[1], {scan[1]}) & big
    return found


def _tables(sql: str) -> dict[str, set[str]]:
    """What each name in a query stands for; one name can stand for several tables in several subqueries."""
    names: dict[str, set[str]] = {}
    for table, alias in _NAMED.findall(sql):
        is_alias = alias and re.fullmatch(r"[TUVW]\d+", alias)
        names.setdefault(alias if is_alias else table, set()).add(table)
    return names
