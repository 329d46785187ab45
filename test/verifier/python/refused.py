"""How a check says what does not hold."""

import hashlib


class Refused(Exception):
    pass


def must(holds, words):
    if not holds:
        raise Refused(words)


def sha256(*parts):
    return hashlib.sha256(b"".join(parts)).digest()
