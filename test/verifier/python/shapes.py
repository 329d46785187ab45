"""What each value of a history has to be, whatever it says."""

import re
from datetime import datetime


ROLES = ("maker", "host", "treasurer", "volunteer")
BY = (*ROLES, "two of the staff", "programme", "rule")
REASONS = ("opening", "second", "cap", "reserve")


def text(value):
    return isinstance(value, str)


def whole(least=0):
    return lambda value: type(value) is int and value >= least


def flag(value):
    return type(value) is bool


def one_of(*words):
    return lambda value: isinstance(value, str) and value in words


def or_null(shape):
    return lambda value: value is None or shape(value)


def hex32(value):
    return isinstance(value, str) and re.fullmatch("[0-9a-f]{64}", value) is not None


def instant(value):
    if not isinstance(value, str) or not re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z", value, re.ASCII):
        return False
    try:
        millis(value)
    except ValueError:
        return False
    return True


def millis(value):
    then = datetime.fromisoformat(value.replace("Z", "+00:00"))
    since = then - datetime.fromisoformat("1970-01-01T00:00:00+00:00")
    return since.days * 86_400_000 + since.seconds * 1000 + since.microseconds // 1000


def list_of(shape):
    return lambda value: isinstance(value, list) and all(shape(one) for one in value)


def record(may=None, **names):
    """An object with just these names; those of `may` can be missing."""
    allowed = {**names, **(may or {})}

    def fits(value):
        return (
            isinstance(value, dict)
            and names.keys() <= value.keys() <= allowed.keys()
            and all(allowed[name](one) for name, one in value.items())
        )

    return fits


AMOUNT = whole()
STANDING = dict(standingMinor=or_null(AMOUNT), leader=or_null(text), why=or_null(one_of(*REASONS)), closesAt=instant)
OF_THE_TWO = record(by=one_of(*ROLES), at=instant)
TERMS = record(
    may=dict(lateBid=record(windowMs=whole(1), addsMs=whole(1))),
    currency=text,
    openingMinor=AMOUNT,
    ladder=list_of(record(fromMinor=AMOUNT, stepMinor=AMOUNT)),
    hasReserve=flag,
    sale=lambda value: isinstance(value, dict) and text(value.get("title")) and text(value.get("unit")),
)
OPENING = record(sequence=whole(1), alias=text, amountMinor=AMOUNT, nonce=hex32)
CERTIFICATE = record(serial=text, by=or_null(text), **{"is": one_of("superseded", "withdrawn")})
SHAPES = {
    kind: record(kind=text, at=instant, **names)
    for kind, names in {
        "opened": dict(closesAt=instant, terms=TERMS, reserveCommitment=or_null(hex32)),
        "bid": dict(sequence=whole(1), alias=text, commitment=hex32, **STANDING),
        "extended": dict(closesAt=instant, by=one_of(*BY), reason=text),
        "held": dict(by=one_of(*BY), reason=text),
        "resumed": dict(by=one_of(*BY), shiftMs=whole(), closesAt=instant),
        "outage": {"from": instant, "to": instant, "shiftMs": whole(), "closesAt": instant},
        "corrected": dict(may=dict(certificate=CERTIFICATE), by=one_of(*BY), words=text),
        "voided": dict(may=dict(asked=OF_THE_TWO, agreed=OF_THE_TWO), alias=text, by=text, reason=text, **STANDING),
        "withdrawn": dict(by=one_of(*BY), reason=text),
        "closed": dict(result=one_of("sold", "unsold"), hammerMinor=or_null(AMOUNT), leader=or_null(text)),
        "revealed": dict(
            openings=list_of(OPENING), reserve=or_null(record(amountMinor=AMOUNT, nonce=hex32)), sealed=or_null(whole(1))
        ),
    }.items()
}
FILE = record(
    version=lambda value: type(value) is int and value == 1,
    lot=whole(1),
    title=text,
    unit=text,
    state=one_of("open", "held", "sold", "unsold", "withdrawn"),
    currency=text,
    origin=text,
    leaves=list_of(lambda leaf: isinstance(leaf, dict)),
    heads=list_of(record(size=whole(1), checkpoint=text)),
    links=record(lot=text, page=text, keys=text),
)
