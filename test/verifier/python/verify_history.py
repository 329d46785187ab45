"""Checks histories of lots, written from public/history-format.md and nothing else.

    python3 verify_history.py KEYS.json < FILES

KEYS.json is the house's key set. FILES has one history on each line, in base64, since a file may have line ends of its own.
Each is answered by one line: "holds", or "refused: " and why. Python's standard library does everything but Ed25519, for
which `openssl` is asked.
"""

import base64
import sys

from opened_maxima import check_openings, check_prices
from play import Play
from refused import Refused, must
from shapes import FILE, SHAPES
from signed_tree import Keys, check_heads
from strict_json import read_json


def check(raw, keys):
    file = read_json(raw)
    must(FILE(file) and file["leaves"], "it is no history of version 1")
    for place, leaf in enumerate(file["leaves"], 1):
        kind = leaf.get("kind")
        must(isinstance(kind, str) and kind in SHAPES and SHAPES[kind](leaf), f"entry {place} is not shaped as entries are")
    first, lot = file["leaves"][0], file["lot"]
    must(first["kind"] == "opened", "it does not begin with the opening")
    sale = first["terms"]["sale"]
    must((file["title"], file["unit"], file["currency"]) == (sale["title"], sale["unit"], first["terms"]["currency"]), "its head is not its opening's")
    must(file["links"] == {"lot": f"/lots/{lot}", "page": f"/lots/{lot}/history", "keys": "/.well-known/jwks.json"}, "its links are others")
    check_heads(file, keys)
    play = Play(file)
    play.run()
    must(file["state"] == play.state(), f"it says {file['state']}, and leads to {play.state()}")
    if play.ended:
        check_openings(file, play.bids)
        check_prices(file)


def main():
    keys = Keys(sys.argv[1])
    for line in sys.stdin:
        try:
            check(base64.b64decode(line), keys)
            print("holds")
        except Refused as reason:
            print(f"refused: {reason}".replace("\n", " "))


if __name__ == "__main__":
    main()
