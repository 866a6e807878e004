"""The family look of every document on paper: letterhead, tables, notes, swatches, a title block per page.

It knows no subject. A document gathers parts and builds them:

    story = [
        title("Cost summary", figure_label="Total", figure="$62,391.19"),
        facts([Fact("For", "Client"), Fact("Job", "12 Music school")]),
        table("Price by room", columns, rows, sums=[Sum(("Subtotal", "", "61,704.57"), strong=True)]),
        notes([("Not included", ["Electrical work"])]),
    ]
    foot = Foot("Shop A", "12 Music school", "Cost summary 12-1", "Nov 25, 2026")
    data = build(story, title="Cost summary 12-1", language="en-us", day=day, paper="letter",
                 letterhead=Letterhead("Shop A"), foot=foot)

Text goes in as typed: it is never read as markup and wraps where it is long. Latin, Greek and Cyrillic letters and the
signs of currencies print; a letter of another script prints as �, and a line at the foot of that page says so.
Words of its own come in the language that is active while it is built.

Reading order: lettering, marks, columns, rows, tables, notes, parts, page.
"""

from workshop.documents.columns import Column
from workshop.documents.marks import Tone, Tones
from workshop.documents.notes import notes
from workshop.documents.page import PAPERS, Foot, build, full_date
from workshop.documents.parts import Fact, Letterhead, facts, title
from workshop.documents.tables import Grand, Group, Sum, table

__all__ = [
    "PAPERS",
    "Column",
    "Fact",
    "Foot",
    "Grand",
    "Group",
    "Letterhead",
    "Sum",
    "Tone",
    "Tones",
    "build",
    "facts",
    "full_date",
    "notes",
    "table",
    "title",
]
