"""Checks certificates and how they stand, written from public/certificate-format.md and nothing else.

    python3 verify_certificate.py KEYS.json NOW < FILES

KEYS.json is the house's key set, NOW the instant of whoever checks. FILES has on each line one signed file in base64, or several
with spaces between them, which are then held against each other as well. Each line is answered by one: "holds", or "refused: " and why.
"""

import base64
import hashlib
import re
import sys

from refused import Refused, must, sha256
from shapes import flag, hex32, instant, list_of, millis, one_of, or_null, record, text
from signed_tree import Keys
from strict_json import canonical, read_json

MINUTE, DAY = 60_000, 86_400_000
DIGITS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
WITHDRAWN = record(serial=text, at=instant, reason=text, again=list_of(text))
OF = dict(serial=text, unit=text, issuedAt=instant, document=hex32)
STATUS = {
    "current": record(**OF, **{"is": text}),
    "superseded": record(**OF, **{"is": text}, at=instant, by=text),
    "withdrawn": record(**OF, **{"is": text}, at=instant, reason=text, again=list_of(text), by=or_null(text)),
}
CERTIFICATE = (
    "title end issuer place serial madeFor method item received work issuedAt sampling scope results deviations external "
    "authorisedBy decisionRule earlier reworks instruments atHome quirks cautions proves notClaimed copying links"
).split()


def having(**names):
    """An object with these names at least: a reader passes over those that it does not know."""
    return lambda value: isinstance(value, dict) and all(name in value and fits(value[name]) for name, fits in names.items())


RESULT = having(
    value=lambda value: value is None or (isinstance(value, (int, float)) and not isinstance(value, bool)),
    **dict.fromkeys("unit nominal lower upper doubt reference instrument ambient plain caution matched".split(), lambda value: True),
    **dict.fromkeys("check stage title kind shown takenBy".split(), text),
    isHold=flag,
    takenAt=instant,
    verdict=one_of("pass", "pass within doubt"),
)


def from_base64url(letters):
    must(text(letters) and re.fullmatch("[A-Za-z0-9_-]*", letters), "a part is not base64url")
    try:
        raw = base64.urlsafe_b64decode(letters + "=" * (-len(letters) % 4))
    except ValueError:
        raise Refused("a part is not base64url") from None
    must(base64.urlsafe_b64encode(raw).rstrip(b"=").decode() == letters, "a part is not in the one spelling of base64url")
    return raw


def read_canonical(raw):
    value = read_json(raw)
    must(canonical(value) == raw, "what was signed is not canonical JSON")
    return value


def open_signed(raw, keys):
    """What was signed, and its bytes, once a key of the house was found to have signed it."""
    file = read_json(raw)
    must(record(payload=text, protected=text, signature=text)(file), "it is not payload, protected and signature alone")
    head, payload, signature = (from_base64url(file[name]) for name in ("protected", "payload", "signature"))
    header = read_canonical(head)
    must(record(alg=one_of("EdDSA"), kid=text)(header), "its header names something else than EdDSA and a key")
    named = [key for key in keys.raw if thumbprint(key) == header["kid"]]
    must(named, "its key is none of the house's")
    signed = f"{file['protected']}.{file['payload']}".encode()
    must(len(signature) == 64 and keys.verify(named[0], signed, signature), "its signature does not fit")
    return read_canonical(payload), payload


def thumbprint(key):
    x = base64.urlsafe_b64encode(key).rstrip(b"=").decode()
    return base64.urlsafe_b64encode(sha256(canonical({"crv": "Ed25519", "kty": "OKP", "x": x}))).rstrip(b"=").decode()


def is_serial(serial):
    """ISO/IEC 7064, MOD 37-2."""
    if not re.fullmatch(r"TS-\d{4}-\d{4,}-[0-9A-Z]", serial, re.ASCII):
        return False
    total = 0
    for letter in serial.replace("-", ""):
        total = (total * 2 + DIGITS.index(letter)) % 37
    return total == 1


def check_certificate(said):
    must(said.get("version") == 1 and set(CERTIFICATE) <= said.keys(), "it is no certificate of version 1")
    must(text(said["serial"]) and is_serial(said["serial"]), f"{said['serial']} is no serial: its last character does not fit")
    must(instant(said["issuedAt"]) and said["results"] and list_of(lambda one: isinstance(one, dict))(said["results"]), "it has no readings")
    for one in said["results"]:
        must(RESULT(one), f"what it says of {one.get('check')} is no reading that is certified")
    must(list_of(WITHDRAWN)(said.get("withdrawn", [])), "what was withdrawn before it is not told as it has to be")
    checks = [one["check"] for one in said["results"]]
    must(len(set(checks)) == len(checks), "it has two readings of one check")
    for gone in said.get("withdrawn", []):
        must(gone["serial"] != said["serial"] and gone["reason"].strip(), "it withdraws itself, or another without a reason")
        old = [one for one in said["results"] if one["check"] in gone["again"] and one["takenAt"] < gone["at"]]
        must(gone["at"] <= said["issuedAt"] and not old, f"what the withdrawal of {gone['serial']} named was not measured again")


def check_standing(said, now):
    names = record(kind=text, version=lambda one: one == 1, covers=one_of("one", "all"), saidAt=instant, until=instant,
                   certificates=list_of(lambda one: isinstance(one, dict)), links=record(home=text, list=text, keys=text))
    must(names(said), "it is not how certificates stand")
    said_at, until, entries = said["saidAt"], said["until"], said["certificates"]
    must(millis(said_at) <= now + 10 * MINUTE, "it was said in times to come")
    must(said_at <= until and millis(until) - millis(said_at) <= DAY, "it may be relied on for longer than a day, or never")
    must(said["covers"] == "all" or len(entries) == 1, "it speaks of another number of certificates than one")
    for one in entries:
        must(text(one.get("is")) and one["is"] in STATUS and STATUS[one["is"]](one), "an entry is not shaped as entries are")
    serials = [one["serial"] for one in entries]
    must(len(set(serials)) == len(serials), "a serial stands twice")
    standing = [one["unit"] for one in entries if one["is"] == "current"]
    must(len(set(standing)) == len(standing), "two certificates of one machine are current")
    for place, one in enumerate(entries):
        must(one["issuedAt"] <= one.get("at", one["issuedAt"]) <= said_at, f"{one['serial']} was issued or ended when it cannot have been")
        must(one["is"] != "withdrawn" or one["reason"].strip(), f"{one['serial']} was withdrawn without a reason")
        after = one.get("by")
        if after is None:
            continue
        must(after != one["serial"], f"{after} follows itself")
        if after in serials:
            later = entries[serials.index(after)]
            is_behind = serials.index(after) > place and later["issuedAt"] >= one["issuedAt"]
            must(is_behind and later["unit"] == one["unit"], f"{after} cannot follow {one['serial']}")
        else:
            must(said["covers"] == "one", f"{after} is not in the list")


def check_answers(earlier, later):
    """What was said of a serial stays; but a certificate can have ended since, once."""
    told = {one["serial"]: one for one in later["certificates"]}
    for before in earlier["certificates"]:
        after = told.get(before["serial"])
        if after is None:
            must(later["covers"] == "one", f"{before['serial']} is not in the list any more")
            continue
        same = ["unit", "issuedAt", "document"]
        if before["is"] != "current" and before["is"] == after["is"]:
            same += ["at", "reason", "again"] + (["by"] if before["by"] is not None else [])
        must(before["is"] in ("current", after["is"]) or after["is"] == "withdrawn", f"{before['serial']} was {before['is']}, and is not any more")
        must(all(before.get(name) == after.get(name) for name in same), f"{before['serial']} is told otherwise than before")


def check_certificates(earlier, later):
    for one, other in ((earlier, later), (later, earlier)):
        gone = [named["serial"] for named in one.get("withdrawn", [])]
        must(other["serial"] not in gone, f"{other['serial']} was withdrawn, says {one['serial']}")
    must(earlier["serial"] != later["serial"] or earlier == later, f"two certificates {later['serial']} were signed")
    if earlier["item"]["tag"] == later["item"]["tag"] and "withdrawn" in later:
        left = {one["serial"] for one in earlier.get("withdrawn", [])} - {one["serial"] for one in later["withdrawn"]}
        must(not left, f"{later['serial']} does not say any more what was withdrawn")


def check_hidden(certificate, answer):
    """What was withdrawn before a certificate was signed, it says; and it is of the machine that the answer tells."""
    tag, issued_at = certificate["item"]["tag"], certificate["issuedAt"]
    for one in answer["certificates"]:
        if one["serial"] == certificate["serial"]:
            must((one["unit"], one["issuedAt"]) == (tag, issued_at), "it is told as of another machine or day")
        if one["is"] == "withdrawn" and one["unit"] == tag and one["at"] < issued_at and (one["again"] or "withdrawn" in certificate):
            own = [(gone["serial"], gone["at"]) for gone in certificate.get("withdrawn", [])]
            must((one["serial"], one["at"]) in own, f"it does not say that {one['serial']} was withdrawn")


def check_together(said):
    """`said` are what was signed and its bytes, of files of one house."""
    answers = sorted((one for one, _ in said if one["kind"] == "tagstrip-standing"), key=lambda one: one["saidAt"])
    for place, earlier in enumerate(answers):
        for later in answers[place + 1 :]:
            check_answers(earlier, later)
    papers = sorted((one for one, _ in said if one["kind"] == "tagstrip-certificate"), key=lambda one: one["issuedAt"])
    for place, earlier in enumerate(papers):
        for later in papers[place + 1 :]:
            check_certificates(earlier, later)
        for answer in answers:
            check_hidden(earlier, answer)
    for certificate, raw in said:
        if certificate["kind"] != "tagstrip-certificate":
            continue
        about = [one for one in answers if one["covers"] == "all" or one["certificates"][0]["serial"] == certificate["serial"]]
        for one in about[-1:]:
            own = [entry for entry in one["certificates"] if entry["serial"] == certificate["serial"]]
            if not own and certificate["issuedAt"] > one["saidAt"]:
                continue
            must(own, "the house had not issued it")
            must(own[0]["document"] == hashlib.sha256(raw).hexdigest(), "the house issued something else under its serial")
            must(own[0]["is"] != "withdrawn", "it was withdrawn")
        for gone in certificate.get("withdrawn", []):
            for one in answers:
                told = [entry["is"] for entry in one["certificates"] if entry["serial"] == gone["serial"]]
                is_known = told == ["withdrawn"] if told else one["covers"] == "one"
                must(gone["at"] > one["saidAt"] or is_known, f"{gone['serial']} was withdrawn, and is told otherwise")


def check(files, keys, now):
    said = [open_signed(raw, keys) for raw in files]
    for one, _ in said:
        must(isinstance(one, dict) and one.get("kind") in ("tagstrip-certificate", "tagstrip-standing"), "it is neither of the two")
        if one["kind"] == "tagstrip-certificate":
            check_certificate(one)
        else:
            check_standing(one, now)
    check_together(said)


def main():
    keys, now = Keys(sys.argv[1]), millis(sys.argv[2])
    for line in sys.stdin:
        try:
            check([base64.b64decode(one) for one in line.split()], keys, now)
            print("holds")
        except Refused as reason:
            print(f"refused: {reason}".replace("\n", " "))


if __name__ == "__main__":
    main()
