"""The tree of the entries, and its heads, which the house signs."""

import base64
import json
import re
import subprocess
import tempfile
from pathlib import Path

from refused import Refused, must, sha256
from strict_json import canonical


def hash_leaf(leaf):
    return sha256(b"\x00", canonical(leaf))


def root_of(hashes):
    if len(hashes) == 1:
        return hashes[0]
    split = 1 << (len(hashes) - 1).bit_length() - 1
    return sha256(b"\x01", root_of(hashes[:split]), root_of(hashes[split:]))


def from_base64(letters):
    try:
        raw = base64.b64decode(letters, validate=True)
    except ValueError:
        raise Refused("what should be base64 is not") from None
    must(base64.b64encode(raw).decode() == letters, "base64 is not canonical")
    return raw


class Keys:
    """The house's keys, and what openssl said of each signature: it is asked once for each."""

    def __init__(self, path):
        self.folder = Path(tempfile.mkdtemp())
        self.answers = {}
        self.raw = [
            base64.urlsafe_b64decode(key["x"] + "=")
            for key in json.loads(Path(path).read_text())["keys"]
            if key["kty"] == "OKP" and key["crv"] == "Ed25519"
        ]

    def signed(self, host, body, signature):
        for raw in self.raw:
            if sha256(host.encode(), b"\n\x01", raw)[:4] == signature[:4] and self.verify(raw, body, signature[4:]):
                return True
        return False

    def verify(self, raw, body, signature):
        name = (raw, body, signature)
        if name not in self.answers:
            key, message, proof = (self.folder / part for part in ("key", "message", "proof"))
            key.write_bytes(bytes.fromhex("302a300506032b6570032100") + raw)
            message.write_bytes(body)
            proof.write_bytes(signature)
            ask = ["openssl", "pkeyutl", "-verify", "-rawin", "-pubin", "-keyform", "DER", "-inkey", key]
            answer = subprocess.run([*ask, "-in", message, "-sigfile", proof], capture_output=True)
            self.answers[name] = answer.returncode == 0
        return self.answers[name]


def check_heads(file, keys):
    leaves, lot, origin = file["leaves"], file["lot"], file["origin"]
    host = origin.split("/")[0]
    must(host and origin == f"{host}/lots/{lot}", "its origin is of another lot")

    def goes_on(leaf, after):
        if leaf["kind"] == "bid":
            return after["kind"] == "extended" and after["by"] == "rule"
        return leaf["kind"] in ("closed", "withdrawn") and after["kind"] == "revealed"

    due = [size for size in range(1, len(leaves)) if not goes_on(leaves[size - 1], leaves[size])] + [len(leaves)]
    must([head["size"] for head in file["heads"]] == due, "its heads do not stand where heads have to")
    hashes = [hash_leaf(leaf) for leaf in leaves]
    for head in file["heads"]:
        size = head["size"]
        parts = re.fullmatch(r"(([^\n]+)\n([1-9][0-9]*)\n([^\n]+)\n)\n— ([^ \n]+) ([^ \n]+)\n", head["checkpoint"])
        must(parts, f"the head at {size} is no checkpoint")
        body, first, count, root, name, signature = parts.groups()
        must(first == origin and int(count) == size and name == host, f"the head at {size} is of something else")
        must(from_base64(root) == root_of(hashes[:size]), f"the entries do not lead to the head at {size}")
        raw = from_base64(signature)
        must(len(raw) == 68 and keys.signed(host, body.encode(), raw), f"the head at {size} is not signed by the house")
