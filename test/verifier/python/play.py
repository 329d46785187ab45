"""What the entries lead to, one after the other, while the maxima are sealed."""

from prices import highest_under, step_at
from refused import must
from shapes import millis

QUARTER_HOUR = 15 * 60_000
LATE = 120_000
ALIVE_NOTED = 5_000


class Play:
    """What entries lead to, one after the other."""

    def __init__(self, file):
        self.leaves = file["leaves"]
        self.terms = self.leaves[0]["terms"]
        self.late = self.terms.get("lateBid", {"windowMs": LATE, "addsMs": LATE})
        self.at = self.opened = millis(self.leaves[0]["at"])
        self.closes = millis(self.leaves[0]["closesAt"])
        self.held = self.ended = None
        self.standing = (None, None, None)
        self.bids = []
        self.voided = set()
        self.reserve_shown = None
        self.certificate = self.terms["sale"].get("certificate")
        ladder = self.terms["ladder"]
        rises = all(one["fromMinor"] < two["fromMinor"] and one["stepMinor"] <= two["stepMinor"] for one, two in zip(ladder, ladder[1:]))
        must(ladder and ladder[0]["fromMinor"] == 0 and rises, "its ladder is none")
        must(self.terms["hasReserve"] == (self.leaves[0]["reserveCommitment"] is not None), "its reserve is not committed to")

    def bidders(self):
        return {bid["alias"] for bid in self.bids} - self.voided

    def run(self):
        for place, leaf in enumerate(self.leaves[1:], 1):
            must(leaf["kind"] != "opened", "it is opened twice")
            at = millis(leaf["at"])
            must(at >= self.at, f"entry {place + 1} is before the one before it")
            must(self.ended is None or leaf["kind"] == "revealed", "something comes after the end")
            self.at = at
            is_due = self.held is None and at >= self.closes
            must(not is_due or leaf["kind"] in ("closed", "outage", "revealed"), f"entry {place + 1} is not before the closing")
            after = self.leaves[place + 1] if place + 1 < len(self.leaves) else None
            getattr(self, "on_" + leaf["kind"])(leaf, at, self.leaves[place - 1], after)
            if leaf["kind"] in ("closed", "withdrawn"):
                self.ended = leaf
                must(after and after["kind"] == "revealed" and after["at"] == leaf["at"], "nothing is opened at its end")

    def state(self):
        if self.ended:
            return self.ended.get("result", "withdrawn")
        return "open" if self.held is None else "held"

    def moved(self, leaf, closes):
        must(millis(leaf["closesAt"]) == closes, f"the closing at {leaf['at']} does not follow")
        self.closes = closes

    def on_bid(self, leaf, at, _, after):
        must(leaf["sequence"] == len(self.bids) + 1, "a bid is missing")
        must(leaf["alias"] not in self.voided, "somebody bids again who was voided")
        must(self.held is None and at < self.closes, "a bid is not while bids are taken")
        was = self.standing
        self.bids.append(leaf)
        self.stand(leaf)
        changes = self.standing[:2] != was[:2]
        is_late = changes and self.closes - at < self.late["windowMs"]
        closes = max(self.closes, at + self.late["addsMs"]) if is_late else self.closes
        is_said = bool(after) and after["kind"] == "extended" and after["by"] == "rule"
        must(is_said == (closes > self.closes), "a late bid moved the closing, and it is not said, or the other way round")
        self.moved(leaf, closes)
        self.after_bid(leaf, was)

    def after_bid(self, leaf, was):
        (standing, leader, why), (before, led, reason) = self.standing, was
        must(leader in (leaf["alias"], led), "somebody leads who neither bid nor led")
        if led != leaf["alias"]:
            least = self.terms["openingMinor"] if led is None else before + step_at(self.terms["ladder"], before)
            must(standing >= least, "a bid was taken that is under the least")
        elif reason == "cap":
            must(standing > before, "a raise from a cap leaves the price where it was")
        else:
            is_same = standing == before and why == reason
            must(is_same or (standing > before and why == "reserve" and reason != "reserve"), "a leader lifted their own price")

    def stand(self, leaf):
        """What must hold of any standing while the maxima are sealed."""
        standing, leader, why = self.standing = (leaf["standingMinor"], leaf["leader"], leaf["why"])
        bidders, opening = self.bidders(), self.terms["openingMinor"]
        if not bidders:
            must((standing, leader, why) == (None, None, None), "somebody leads without a bid")
            return
        must(None not in (standing, leader, why) and leader in bidders and standing >= opening, "nobody leads, or under the opening price")
        if why == "opening":
            must(len(bidders) == 1 and standing == opening, "the opening price is not the reason")
        if why in ("cap", "second"):
            must(len(bidders) > 1, f"one bidder alone, and the reason is {why}")
        if why == "second":
            below = highest_under(self.terms["ladder"], standing)
            must(below >= opening and below + step_at(self.terms["ladder"], below) == standing, "no second leads to that price")
        if why == "reserve":
            must(self.terms["hasReserve"] and standing > opening and self.reserve_shown in (None, standing), "no reserve leads to that price")
            self.reserve_shown = standing

    def on_extended(self, leaf, _, before, __):
        if leaf["by"] == "rule":
            must(before["kind"] == "bid" and (before["at"], before["closesAt"]) == (leaf["at"], leaf["closesAt"]), "the rule moves nothing here")
        else:
            must(millis(leaf["closesAt"]) > self.closes, "more time is less")
            self.closes = millis(leaf["closesAt"])

    def on_held(self, _, at, *__):
        must(self.held is None, "it is held twice")
        self.held = at

    def on_resumed(self, leaf, at, *_):
        must(self.held is not None and self.is_enough(leaf["shiftMs"], self.held, at), "it goes on without a hold, or with less time")
        self.moved(leaf, self.closes + leaf["shiftMs"])
        self.held = None

    def is_enough(self, shift, since, until):
        """A quarter of an hour is left from going on, or as much as was left when it stopped."""
        return shift >= 0 and self.closes + shift - until >= min(self.closes - since, QUARTER_HOUR)

    def on_outage(self, leaf, at, before, _):
        begun, ended = millis(leaf["from"]), millis(leaf["to"])
        must(self.held is None and ended == at, "an outage is told on hold, or at another time than its end")
        must(millis(before["at"]) - ALIVE_NOTED <= begun < self.closes, "an outage begins before the entry before it, or after the closing")
        must(begun <= ended and self.is_enough(leaf["shiftMs"], begun, ended), "an outage leaves less time than it must")
        self.moved(leaf, self.closes + leaf["shiftMs"])

    def on_corrected(self, leaf, *_):
        if "certificate" not in leaf:
            return
        named = leaf["certificate"]
        must(leaf["by"] == "rule" and named["serial"] == self.certificate, "a certificate is spoken of that the terms do not name")
        must(named["is"] == "withdrawn" or named["by"] is not None, "a certificate is superseded by none")
        self.certificate = named["by"] or self.certificate

    def on_voided(self, leaf, at, *_):
        must(any(bid["alias"] == leaf["alias"] for bid in self.bids), "somebody is voided who did not bid")
        must(leaf["by"] == "two of the staff" and ("asked" in leaf) == ("agreed" in leaf), "it was not two who voided")
        if "asked" in leaf:
            asked, agreed = millis(leaf["asked"]["at"]), millis(leaf["agreed"]["at"])
            must(self.opened <= asked <= agreed == at, "the two who voided did so at another time")
        was = self.standing
        is_again = leaf["alias"] in self.voided
        self.voided.add(leaf["alias"])
        self.stand(leaf)
        must(not is_again or self.standing == was, "a second void changes more than the closing")
        self.moved(leaf, max(self.closes, (at if self.held is None else self.held) + QUARTER_HOUR))

    def on_withdrawn(self, *_):
        pass

    def on_closed(self, leaf, at, *_):
        must(self.held is None and at == self.closes, "it is not closed at its closing")
        standing, leader, _why = self.standing
        must(leaf["leader"] == leader, "another leads at the end")
        must(leaf["hammerMinor"] == (standing if leaf["result"] == "sold" else None), "the hammer price is another")
        must(leader is not None or leaf["result"] == "unsold", "it is sold to nobody")

    def on_revealed(self, leaf, _, before, after):
        must(before["kind"] in ("closed", "withdrawn") and after is None, "maxima are opened before the end")
        is_sold = before.get("result") == "sold"
        sealed = max(bid["sequence"] for bid in self.bids if bid["alias"] == before["leader"]) if is_sold else None
        must(leaf["sealed"] == sealed, "another bid stays closed than the winner's last")
