"""What no field may trip over: each is answered with 422 and words, or taken for what it says, never with a 500."""

NOTHING = ""
LONG = "a" * 100_000
NUL = "4\x009"
MARKUP = '<script>alert("ash")</script>'
DIGITS_OF_ANOTHER_SCRIPT = "٣٤"

NO_NUMBER = {
    "a hundred thousand letters": LONG,
    "a NUL": NUL,
    "a NUL alone": "\x00",
    "markup": MARKUP,
    "beyond every float": "1e400",
    "no number at all": "NaN",
    "no end": "Infinity",
    "less than nothing": "-1",
    "ten to the thirtieth": str(10**30),
    "a hundred thousand digits": "9" * 100_000,
    "a day that is not": "2026-02-30",
    "digits of another script": DIGITS_OF_ANOTHER_SCRIPT,
    "a sign of a format": "100%s %(typed)s",
    "per cent and a word": "5% off",
    "underscored": "1_000",
    "lone dots": "...",
    "halves of a pair": "\ud83e",
    "a line break": "4\n9",
    "written from right to left": "\u202e94",
}
