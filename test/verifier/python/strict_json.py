"""I-JSON, with numbers as RFC 8785 spells them, and its canonical form."""

import json

from refused import Refused, must

WHOLE = 2**53 - 1


def spelt(number):
    """A fraction as ECMAScript writes it."""
    digits, _, power = f"{number!r}".lstrip("-").partition("e")
    whole, _, rest = digits.partition(".")
    rest = "" if rest == "0" else rest
    point = len(whole) + int(power or 0)
    figures = (whole + rest).lstrip("0")
    point -= len(whole + rest) - len(figures)
    if -6 < point <= 0:
        text = "0." + "0" * -point + figures
    elif 0 < point < len(figures):
        text = f"{figures[:point]}.{figures[point:]}"
    elif point <= -6:
        text = figures[0] + ("." + figures[1:] if figures[1:] else "") + f"e-{1 - point}"
    else:
        text = "a whole number"
    return "-" + text if number < 0 else text


def read_whole(token):
    must(str(int(token)) == token and abs(int(token)) <= WHOLE, f"the number {token} is not spelt in the one way")
    return int(token)


def read_fraction(token):
    must(spelt(float(token)) == token, f"the number {token} is not spelt in the one way")
    return float(token)


def no_number(token):
    raise Refused(f"{token} is no JSON")


def read_object(pairs):
    names = [name for name, _ in pairs]
    must(len(set(names)) == len(names), "a name stands twice in one object")
    must("__proto__" not in names, "the name __proto__ stands in it")
    return dict(pairs)


def read_json(raw):
    try:
        value = json.loads(
            raw.decode("utf-8"),
            parse_int=read_whole,
            parse_float=read_fraction,
            parse_constant=no_number,
            object_pairs_hook=read_object,
        )
        canonical(value)
    except (UnicodeError, ValueError, RecursionError) as reason:
        raise Refused(f"it is no I-JSON: {reason}") from None
    return value


def canonical(value):
    """RFC 8785: members sorted by UTF-16 code units. A lone surrogate has no UTF-8 and is refused by the encoding."""
    if isinstance(value, dict):
        members = sorted(value.items(), key=lambda member: member[0].encode("utf-16-be"))
        return b"{" + b",".join(canonical(name) + b":" + canonical(one) for name, one in members) + b"}"
    if isinstance(value, list):
        return b"[" + b",".join(canonical(one) for one in value) + b"]"
    if isinstance(value, float):
        return spelt(value).encode()
    return json.dumps(value, ensure_ascii=False).encode("utf-8")
