"""The price that maxima lead to."""


def step_at(ladder, amount):
    return [rung["stepMinor"] for rung in ladder if rung["fromMinor"] <= amount][-1]


def highest_under(ladder, limit):
    """The highest amount which, with the step at it, is not above the limit; below zero if there is none."""
    low, high = -1, limit
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if middle + step_at(ladder, middle) <= limit else (low, middle - 1)
    return low


def price(terms, maxima, reserve):
    """Standing bid, leader and why, of each bidder's last maximum by its sequence."""
    order = sorted(maxima.items(), key=lambda one: (-one[1][0], one[1][1]))
    if not order:
        return None, None, None
    (leader, (top, _)), second = order[0], order[1][1][0] if order[1:] else None
    opening = terms["openingMinor"]
    over = opening if second is None else max(opening, second + step_at(terms["ladder"], second))
    why = "opening" if second is None or over > second + step_at(terms["ladder"], second) else "second"
    if reserve is not None and top >= reserve > over:
        over, why = reserve, "reserve"
    return (top, leader, "cap") if top < over else (over, leader, why)
