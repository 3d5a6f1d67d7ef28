"""What people call the units.

Keys are folded: small letters, blanks and dots and hyphens and brackets gone, so that ``ft-lb``, ``Ft.
Lbs`` and ``ft·lbs`` are one word (see `fold`). A word that means two things is never resolved here: it is
listed with the ways to say it clearly.
"""

import re

_DROPPED = re.compile(r"[\s.·⋅∙•*×()_-]")
_MARKS = str.maketrans(
    {"²": "2", "³": "3", "″": '"', "”": '"', "“": '"', "„": '"', "′": "'", "’": "'", "‘": "'"}
    | {"º": "°", "˚": "°", "µ": "u", "μ": "u", "\u03a9": "ohm", "\u2126": "ohm", "ω": "ohm"}
)


def fold(word: str) -> str:
    """Fold a unit as typed to the key it is looked up by.

    Examples
    --------
    >>> fold("Lbf·Ft"), fold("kg/cm²"), fold("ft - lbs.")
    ('lbfft', 'kg/cm2', 'ftlbs')
    """
    return _DROPPED.sub("", word.translate(_MARKS).replace("''", '"').lower())


def _words(table: dict[str, str]) -> dict[str, str]:
    return {fold(word): symbol for symbol, words in table.items() for word in words.split("|")}


# Symbol: its spellings, parted by |. Spellings that differ only by what `fold` drops are written once.
ALIASES: dict[str, str] = _words(
    {
        "m": "m|metre|metres|meter|meters",
        "mm": "mm|millimetre|millimetres|millimeter|millimeters",
        "cm": "cm|centimetre|centimetres|centimeter|centimeters",
        "um": "um|micron|microns|micrometre|micrometer",
        "in": 'in|ins|inch|inches|"',
        "thou": "thou|thous|thousandth|thousandths|thousandths of an inch",
        "ft": "ft|foot|feet",
        "Nm": "Nm|newton metre|newton metres|newton meter|newton meters|mN",
        "daNm": "daNm|mdaN|decanewton metre",
        "kgf.m": "kgf m|m kgf|kg m|kgs m|m kg|kp m|m kp|kilopond metre",
        "kgf.cm": "kgf cm|cm kgf|kg cm|cm kg|kp cm",
        "lbf.ft": (
            "lbf ft|lb ft|lbs ft|ft lb|ft lbs|ft lbf|foot pound|foot pounds|pound foot|pounds foot|pound feet"
            "|pounds feet|feet pounds|lbft|lb-feet"
        ),
        "lbf.in": "lbf in|lb in|lbs in|in lb|in lbs|in lbf|inch pound|inch pounds|pound inch|pound inches",
        "ozf.in": "ozf in|in ozf|oz in|in oz|ounce inch|ounce inches|inch ounce|inch ounces",
        "Pa": "Pa|pascal|pascals",
        "kPa": "kPa|kilopascal|kilopascals",
        "MPa": "MPa|megapascal|N/mm2",
        "bar": "bar|bars",
        "mbar": "mbar|millibar|millibars|hPa",
        "kgf/cm2": "kgf/cm2|kg/cm2|kp/cm2|kgf cm2|kg per cm2|kgf/sq cm|kg/sq cm",
        "mmHg": "mmHg|mm of mercury|mm mercury|torr",
        "atm": "atm|atmosphere|atmospheres",
        "psi": (
            "psi|psig|lbf/in2|lb/in2|lbs/in2|lb/sq in|lbs/sq in|lbf/sq in|lb per sq in|pounds per square inch"
        ),
        "inHg": 'inHg|ins Hg|inches Hg|inches of mercury|in of mercury|"Hg',
        "m3": "m3|cubic metre|cubic metres|cu m",
        "L": "L|lt|ltr|ltrs|litre|litres|liter|liters|ℓ|dm3",
        "ml": "ml|mls|millilitre|millilitres|milliliter|milliliters",
        "cc": "cc|ccs|cm3|ccm|cu cm|cubic centimetre|cubic centimetres|cubic centimeters",
        "in3": "in3|cu in|cu ins|cubic inch|cubic inches|cid",
        "deg": "deg|degs|degree|degrees|°",
        "arcmin": "'|arcmin|arc minute|arc minutes",
        "deg_crank": "deg crank|degrees crank|crank deg|crank degrees|° crank|crank °|deg of crank",
        "deg_dist": (
            "deg dist|degrees dist|dist deg|° dist|° distributor|deg distributor|degrees distributor"
            "|distributor deg|distributor degrees|deg cam|cam deg|cam degrees|° cam"
        ),
        "rpm": "rpm|rev/min|revs/min|r/min|1/min|revs|rev per min|revs per minute|turns per minute|U/min",
        "V": "V|volt|volts",
        "mV": "mV|millivolt|millivolts",
        "A": "A|amp|amps|ampere|amperes",
        "mA": "mA|milliamp|milliamps",
        "Ah": "Ah|amp hour|amp hours|ampere hours",
        "ohm": "ohm|ohms",
        "kohm": "kohm|kohms|kilohm|kilohms|kilo ohm",
        "uF": "uF|mfd|microfarad|microfarads",
        "nF": "nF|nanofarad|nanofarads",
        "F": "farad|farads",
        "degC": "°C|deg C|degrees C|celsius|centigrade|degrees celsius|℃",
        "degF": "°F|deg F|degrees F|fahrenheit|degrees fahrenheit|℉",
        "sg": "sg|specific gravity",
        "N": "N|newton|newtons",
        "kgf": "kgf|kp|kilopond|kiloponds",
        "lbf": "lbf|pound force|pounds force",
        "kg": "kg|kgs|kilo|kilos|kilogram|kilograms|kilogramme|kilogrammes",
        "g": "g|gr|gram|grams|gramme|grammes",
        "lb": "lb|lbs|pound|pounds",
        "oz": "oz|ozs|ounce|ounces",
        "km": "km|kms|kilometre|kilometres|kilometer|kilometers",
        "mi": "mi|mile|miles",
        "m/s": "m/s|metres per second",
        "km/h": "km/h|kmh|kph|kmph|kilometres per hour",
        "mph": "mph|mi/h|miles per hour",
        "s": "s|sec|secs|second|seconds",
        "ms": "ms|msec|millisecond|milliseconds",
        "min": "min|mins|minute|minutes",
        "h": "h|hr|hrs|hour|hours",
        "L/100km": "L/100km|litres/100km|litres per 100km|L per 100km",
        "km/L": "km/L|kml|kmpl|km per litre|km per L",
        "m2": "m2|sq m|square metre|square metres",
        "cm2": "cm2|sq cm|square centimetres",
        "mm2": "mm2|sq mm|square millimetres",
        "in2": "in2|sq in|square inch|square inches",
        "W": "W|watt|watts",
        "kW": "kW|kilowatt|kilowatts",
        "PS": "PS|cv|metric hp",
        "hp": "hp|bhp|horsepower|brake horsepower",
        "ratio": ":1|to 1",
        "%": "%|percent|per cent|pct",
        "count": "off|pcs|pieces",
    }
)

_COUNTRY_WORDS = {
    "pt": "pt|pts|pint|pints",
    "qt": "qt|qts|quart|quarts",
    "gal": "gal|gals|gallon|gallons",
    "floz": "fl oz|fluid ounce|fluid ounces|oz|ozs|ounce|ounces",
    "mpg": "mpg|miles per gallon|miles/gallon",
}
_COUNTRIES = {"imp": "imp|imperial|uk|british", "us": "us|usa|american|u.s."}
for _stem, _spellings in _COUNTRY_WORDS.items():
    for _code, _names in _COUNTRIES.items():
        for _spelling in _spellings.split("|"):
            for _name in _names.split("|"):
                for _word in (_name + _spelling, _spelling + _name):
                    ALIASES.setdefault(fold(_word), f"{_stem}_{_code}")

# Only where this quantity is wanted: the word then has one meaning.
IN_QUANTITY: dict[str, dict[str, str]] = {
    "torque": _words({"lbf.ft": "lb/ft|lbs/ft|lbf/ft|ft/lb|ft/lbs", "lbf.in": "lb/in|lbs/in|in/lb|in/lbs"}),
    "crank angle": _words({"deg_crank": "deg|degs|degree|degrees|°|crank"}),
    "distributor angle": _words({"deg_dist": "deg|degs|degree|degrees|°|dist|distributor|cam"}),
    "length": _words({"ft": "'"}),
    "offset": _words({"ft": "'"}),
    "temperature": _words({"degC": "C", "degF": "F"}),
    "capacitance": _words({"F": "F"}),
    "resistance": _words({"kohm": "k", "mohm": "milliohm|milliohms", "Mohm": "megohm|megohms"}),
    "force": _words({"kgf": "kg|kgs|kilo|kilos", "lbf": "lb|lbs|pound|pounds"}),
    "volume": _words({"in3": "ci"}),
    "distance": _words({"m": "m|metre|metres|meter|meters", "km": "k"}),
    "time": _words({"min": "m|'", "s": '"'}),
}

# Words that mean more than one thing where this quantity is wanted, or that are no unit of it but often said;
# with the units that may be meant.
UNCLEAR: dict[str, dict[str, tuple[str, ...]]] = {
    "length": {"mil": ("thou",), "mils": ("thou",)},
    "torque": {
        **dict.fromkeys(("lb", "lbs", "pound", "pounds", "lbf"), ("lbf.ft", "lbf.in")),
        **dict.fromkeys(("kg", "kgs", "kilo", "kilos", "kgf"), ("kgf.m", "kgf.cm")),
        **dict.fromkeys(("oz", "ozs", "ounce", "ounces"), ("ozf.in",)),
        **dict.fromkeys(("ft", "foot", "feet"), ("lbf.ft",)),
    },
    "pressure": {
        **dict.fromkeys(("lb", "lbs", "pound", "pounds", "lbf"), ("psi",)),
        **dict.fromkeys(("kg", "kgs", "kilo", "kilos", "kgf"), ("kgf/cm2",)),
        **dict.fromkeys(("in", "ins", "inch", "inches", '"'), ("inHg",)),
        **dict.fromkeys(("mm", "millimetres"), ("mmHg",)),
    },
    "volume": {
        fold(word): (f"{stem}_imp", f"{stem}_us")
        for stem in ("pt", "qt", "gal", "floz")
        for word in _COUNTRY_WORDS[stem].split("|")
    },
    "fuel use": {fold(word): ("mpg_imp", "mpg_us") for word in _COUNTRY_WORDS["mpg"].split("|")},
    "temperature": dict.fromkeys(("°", "deg", "degree", "degrees"), ("degC", "degF")),
}
UNCLEAR["offset"] = UNCLEAR["length"]
