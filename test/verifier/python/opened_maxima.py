"""What can be checked once the maxima are open: that they are those of the bids, and that every price follows."""

from prices import highest_under, price, step_at
from refused import must, sha256

NO_LIMIT = 2**62


def commitment(tag, lot, alias, sequence, amount, nonce):
    return sha256(*(f"{part}\0".encode() for part in (tag, lot, alias, sequence, amount)), bytes.fromhex(nonce)).hex()


def check_openings(file, bids):
    leaves, lot, shown = file["leaves"], file["lot"], file["leaves"][-1]
    expected = [bid for bid in bids if bid["sequence"] != shown["sealed"]]
    must(len(shown["openings"]) == len(expected), "a maximum is not opened, or one too many")
    for bid, one in zip(expected, shown["openings"]):
        must((one["sequence"], one["alias"]) == (bid["sequence"], bid["alias"]), "the openings are not those of the bids, in order")
        made = commitment("tagstrip/maximum/v1", lot, one["alias"], one["sequence"], one["amountMinor"], one["nonce"])
        must(made == bid["commitment"], f"bid {bid['sequence']} was not opened as it was made")
    must((shown["reserve"] is not None) == leaves[0]["terms"]["hasReserve"], "the reserve is not opened")
    if shown["reserve"]:
        made = commitment("tagstrip/reserve/v1", lot, "", 0, shown["reserve"]["amountMinor"], shown["reserve"]["nonce"])
        must(made == leaves[0]["reserveCommitment"], "the reserve is not the one that was fixed")


def most_of_sealed(file, amounts):
    """The highest amount that no entry rules out for the maximum that stays sealed."""
    leaves, sealed = file["leaves"], file["leaves"][-1]["sealed"]
    ladder, most, last, owner = leaves[0]["terms"]["ladder"], NO_LIMIT, {}, None
    for leaf in leaves:
        if leaf["kind"] == "bid":
            last[leaf["alias"]] = leaf["sequence"]
            owner = leaf["alias"] if leaf["sequence"] == sealed else owner
        if owner is None or leaf["kind"] not in ("bid", "voided"):
            continue
        if leaf["leader"] == owner:
            most = min(most, leaf["standingMinor"]) if leaf["why"] == "cap" else most
            continue
        if leaf["leader"] is None:
            continue
        theirs = last[leaf["leader"]]
        most = min(most, amounts[theirs] - (theirs > sealed))
        if leaf["why"] in ("second", "reserve"):
            most = min(most, highest_under(ladder, leaf["standingMinor"] - (leaf["why"] == "reserve")))
    return most


def check_prices(file):
    leaves, shown = file["leaves"], file["leaves"][-1]
    terms, reserve = leaves[0]["terms"], shown["reserve"] and shown["reserve"]["amountMinor"]
    amounts = {one["sequence"]: one["amountMinor"] for one in shown["openings"]}
    if shown["sealed"] is not None:
        amounts[shown["sealed"]] = most_of_sealed(file, amounts)
    maxima, now = {}, (None, None, None)
    for leaf in leaves:
        if leaf["kind"] == "bid":
            alias, amount = leaf["alias"], amounts[leaf["sequence"]]
            if alias == now[1]:
                must(amount > maxima[alias][0], f"bid {leaf['sequence']} is not above its bidder's own maximum")
            else:
                least = terms["openingMinor"] if now[0] is None else now[0] + step_at(terms["ladder"], now[0])
                must(amount >= least, f"bid {leaf['sequence']} is under the least")
            maxima[alias] = (amount, leaf["sequence"])
        elif leaf["kind"] == "voided":
            maxima.pop(leaf["alias"], None)
        elif leaf["kind"] == "closed":
            is_sold = now[1] is not None and (reserve is None or maxima[now[1]][0] >= reserve)
            must((leaf["result"] == "sold") == is_sold, "the reserve says otherwise")
            continue
        else:
            continue
        now = price(terms, maxima, reserve)
        must(now == (leaf["standingMinor"], leaf["leader"], leaf["why"]), f"the price at {leaf['at']} does not follow from the bids")
