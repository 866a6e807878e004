"""The currencies of ISO 4217 and their minor units.

The number of places is that of ISO 4217, list one of 2026-01-01. Babel is not asked for it: it carries the
figures of the Unicode CLDR, which follow use in shops and differ for thirteen currencies (the Serbian dinar
has 2 places by ISO and 0 there). Gold, testing codes and other entries without a minor unit are left out.
"""

from functools import cache

from babel import Locale, UnknownLocaleError
from babel.numbers import get_currency_symbol

from workshop.calculations.money.errors import CURRENCY, UNKNOWN_CURRENCY, UnknownCurrency

_CODES_BY_PLACES = {
    0: "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF",
    2: (
        "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BOV BRL BSD BTN BWP BYN BZD CAD CDF "
        "CHE CHF CHW CNY COP COU CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD "
        "GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL "
        "MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR "
        "PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP "
        "TRY TTD TWD TZS UAH USD USN UYU UZS VED VES WST XAD XCD XCG YER ZAR ZMW ZWG"
    ),
    3: "BHD IQD JOD KWD LYD OMR TND",
    4: "CLF UYW",
}
_PLACES = {code: places for places, codes in _CODES_BY_PLACES.items() for code in codes.split()}

CURRENCIES = tuple(sorted(_PLACES))


def minor_digits(currency: str) -> int:
    """The number of places of the currency's minor unit.

    Args:
        currency: code of ISO 4217 in capitals [-]

    Returns:
        0, 2, 3 or 4 [-]

    Raises:
        UnknownCurrency: the code is not in the current list

    Example:
        JPY has 0, USD 2, KWD 3, CLF 4 (ISO 4217, list one of 2026-01-01).
    """
    try:
        return _PLACES[currency]
    except (KeyError, TypeError):
        raise UnknownCurrency(currency, CURRENCY, UNKNOWN_CURRENCY, ("USD", "EUR")) from None


@cache
def signs_of(currency: str) -> tuple[str, ...]:
    """The texts that stand for the currency beside an amount: its code, its sign at home and its sign abroad.

    A dollar sign in an amount of Canadian dollars means the Canadian one, so every currency has its own.

    Args:
        currency: code of ISO 4217 in capitals [-]

    Returns:
        the longest first [-]

    Raises:
        UnknownCurrency: the code is not in the current list

    Example:
        CAD gives CAD, CA$ and $ (signs of the Unicode CLDR).
    """
    minor_digits(currency)
    signs = {currency, get_currency_symbol(currency, "en")}
    try:
        home = Locale.parse(f"und_{currency[:2]}")
        signs.add(get_currency_symbol(currency, home))
    except (UnknownLocaleError, ValueError):
        pass
    if currency == "JPY":
        signs.add("¥")
    if currency == "USD":
        signs.add("US$")
    bare = {sign.strip("\u200e\u200f").replace("\u202f", " ").replace("\u00a0", " ") for sign in signs}
    return tuple(sorted(bare, key=lambda sign: (-len(sign), sign)))
