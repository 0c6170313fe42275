"""Every rule of a plan or a cut list checked from the program's JSON and the
job's own numbers."""

from collections import Counter
from decimal import Decimal
from fractions import Fraction

from deck import INCH, MM


class Fault(Exception):
    """A rule broken."""


def require(holds, message):
    if not holds:
        raise Fault(message)


def reader(unit):
    """Lengths of the JSON in 1/8 um: the nearest whole number, as promised."""
    step = INCH if unit == "in" else MM

    def read(value):
        return round(Fraction(Decimal(str(value))) * step)

    return read


def money(text):
    exact = Decimal(text) * 100
    require(isinstance(text, str) and exact == int(exact), f"{text} is no amount of cents")
    return int(exact)


def letters(index):
    name = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        name = chr(ord("a") + rest) + name
    return name


def offcut(room, pieces, kerf):
    """What remains of a board's usable length; the pieces must fit."""
    used = sum(piece + kerf for piece in pieces)
    require(used <= room + kerf, f"pieces {pieces} do not fit {room}")
    return max(0, room - used)


def plan(deck, answer, prefer):
    """Checks a plan and gives (value, bound, proven, cost, joints)."""
    read = reader(answer["unit"])
    require(answer["unit"] == deck.unit, "the unit")
    require(read(answer["gap"]) == deck.gap, "the gap")
    supports = deck.supports()
    require([read(at) for at in answer["supports"]] == supports, "the supports")
    wanted = deck.courses()
    require(len(answer["courses"]) == len(wanted), "the number of courses")
    start, end = deck.run()
    low, high = deck.end_gap // 2, deck.end_gap - deck.end_gap // 2
    pieces, joints_of, laid = {}, [], 0
    for index, (course, (near, far)) in enumerate(zip(answer["courses"], wanted)):
        number = index + 1
        require(course["number"] == number, "a course's number")
        place = (read(course["from"]), read(course["to"]), read(course["width"]))
        require(place == (near, far, far - near), f"course {number} across")
        require(course["ripped"] == (far - near < deck.face), f"course {number} ripped or not")
        (run,) = course["runs"]
        require((read(run["from"]), read(run["to"])) == (start, end), f"run {number}")
        count = len(run["pieces"])
        require(count > 0, f"course {number} is empty")
        joints, at = [], start
        for k, piece in enumerate(run["pieces"]):
            a, b = read(piece["from"]), read(piece["to"])
            require(piece["id"] == f"{number}{letters(k)}", f"the name {piece['id']}")
            require(a == at and b > a, f"piece {piece['id']} starts at {a}, not {at}")
            if k + 1 < count:
                joint = b + low
                require(joint in supports[1:-1], f"the joint after {piece['id']} at {joint}")
                require(not deck.kept_out(joint), f"the joint after {piece['id']}, kept free")
                at = joint + high
            else:
                require(b == end, f"the end of course {number}")
                joint = None
            if count > 1:
                require(b - a >= deck.shortest, f"{piece['id']} is too short")
                left = joints[-1] if joints else start
                right = end if joint is None else joint
                under = sum(left <= s <= right for s in supports)
                require(under >= deck.bearing, f"{piece['id']} rests on {under}")
            cut = b - a + deck.allowance("left") * (k == 0)
            cut += deck.allowance("right") * (k + 1 == count)
            require(read(piece["length"]) == cut, f"the length of {piece['id']}")
            pieces[piece["id"]] = (cut, piece["board"], far - near)
            laid += b - a
            if joint is not None:
                joints.append(joint)
        joints_of.append(joints)
    wanted = [(label, n, length) for label, length, count in deck.extras for n in range(1, count + 1)]
    require(len(answer["extras"]) == len(wanted), "the number of other pieces")
    other = 0
    for piece, (label, n, length) in zip(answer["extras"], wanted):
        require((piece["id"], piece["label"]) == (f"{label} {n}", label), f"the name {piece['id']}")
        require(read(piece["length"]) == length, f"the length of {piece['id']}")
        require(piece["id"] not in pieces, f"two pieces {piece['id']}")
        pieces[piece["id"]] = (length, piece["board"], deck.face)
        other += length
    between(deck, joints_of)
    price, bought = boards(deck, answer, pieces, read)
    joints = sum(map(len, joints_of))
    doubled = len({at for joints in joints_of for at in joints})
    cost = price + joints * deck.joint_price + doubled * deck.doubled_price
    totals = answer["totals"]
    require(totals["boards"] == len(answer["boards"]), "the number of boards")
    require(totals["joints"] == joints, "the number of joints")
    require(totals["doubled_joists"] == doubled, "the doubled joists")
    require(money(totals["price"]) == price, "the price")
    require(money(totals["cost"]) == cost, "the cost")
    require(read(totals["bought"]) == bought, "the length bought")
    require(read(totals["laid"]) == laid, "the length laid")
    require(read(totals["extra"]) == other, "the length of other pieces")
    waste = 1 - (laid + other) / bought if bought else 0
    require(abs(totals["waste"] - waste) < 1e-9, "the waste")
    require(totals["objective"] == prefer, "the objective")
    terms = {"cost": money, "joints": int, "waste": read}[prefer]
    value, bound = terms(totals["value"]), terms(totals["bound"])
    require(value == {"cost": cost, "joints": joints, "waste": bought}[prefer], "the value")
    consistent(totals, value, bound)
    return value, bound, totals["proven"], cost, joints


def consistent(totals, value, bound):
    require(bound <= value, f"the bound {bound} is above {value}")
    require(totals["proven"] == (bound == value), "what is said to be proven")
    gap = (value - bound) / value if value else 0
    require(abs(totals["gap"] - gap) < 1e-9, "the gap")


def between(deck, joints_of):
    supports = deck.supports()
    for one, other in zip(joints_of, joints_of[1:]):
        for a in one:
            for b in other:
                require(abs(a - b) >= deck.stagger, f"joints at {a} and {b} in neighbours")
                joists = abs(supports.index(a) - supports.index(b))
                require(joists >= deck.stagger_joists, f"{joists} joists from {a} to {b}")
    if deck.repeat:
        require(joints_of[deck.repeat :] == joints_of[: -deck.repeat], "joints that repeat")
    for index, joints in enumerate(joints_of):
        for later in joints_of[index + 1 : index + 1 + deck.same_joist_after]:
            require(not set(joints) & set(later), "joints on one support too soon")


def boards(deck, answer, pieces, read):
    taken, sawn = Counter(), Counter()
    price = bought = 0
    for index, board in enumerate(answer["boards"]):
        number = index + 1
        require(board["number"] == number, "a board's number")
        stock = deck.stock[board["stock"] - 1]
        require(read(board["length"]) == stock.length, f"the length of board {number}")
        due = 0 if board["on_hand"] else stock.price
        require(due is not None and money(board["price"]) == due, f"the price of board {number}")
        taken[board["stock"], board["on_hand"]] += 1
        strips = board["strips"] or [board["pieces"]]
        require(sorted(sum(strips, [])) == sorted(board["pieces"]), f"the strips of {number}")
        require(board["pieces"] and all(strips), f"board {number} or a strip of it is empty")
        room = stock.length - 2 * deck.end_trim
        left = [offcut(room, [pieces[i][0] for i in ids], deck.kerf) for ids in strips]
        require(read(board["offcut"]) == max(left), f"the offcut of board {number}")
        if board["strips"]:
            widths = [{pieces[i][2] for i in ids} for ids in strips]
            require(deck.split_rips and all(len(w) == 1 for w in widths), f"the split of {number}")
            require(all(max(w) < deck.face for w in widths), f"a whole piece in a strip of {number}")
            across = sum(max(w) for w in widths) + deck.rip_kerf
            require(across <= deck.face, f"the strips of board {number} are too wide")
        for i in board["pieces"]:
            require(pieces[i][1] == number, f"the board of piece {i}")
            sawn[i] += 1
        price += due
        bought += stock.length
    left = Counter()
    for over in answer["left_over"]:
        stock = deck.stock[over["stock"] - 1]
        require(read(over["length"]) == stock.length, "the length of what is left over")
        require(money(over["price"]) == over["count"] * stock.price, "the price of what is left over")
        left[over["stock"]] += over["count"]
        price += over["count"] * stock.price
        bought += over["count"] * stock.length
    for place, stock in enumerate(deck.stock, 1):
        require(left[place] == -taken[place, False] % stock.bundle, f"what is left of stock {place}")
        taken[place, False] += left[place]
    require(sawn == Counter(list(pieces)), "every piece is sawn once")
    for (place, on_hand), count in taken.items():
        stock = deck.stock[place - 1]
        limit = stock.on_hand if on_hand else stock.available
        require(limit is None or count <= limit, f"{count} boards of stock {place}")
    return price, bought


def cut(problem, answer):
    """Checks a cut list and gives (value, bound, proven)."""
    read = reader(answer["unit"])
    made, taken, cost = Counter(), Counter(), 0
    for board in answer["boards"]:
        length, price, _ = problem["stock"][board["stock"] - 1]
        require(read(board["length"]) == length and money(board["price"]) == price, "a board")
        lengths = [read(piece["length"]) for piece in board["pieces"]]
        require(lengths and board["count"] > 0, "an empty board")
        require(read(board["offcut"]) == offcut(length, lengths, problem["kerf"]), "an offcut")
        for piece in lengths:
            made[piece] += board["count"]
        taken[board["stock"]] += board["count"]
        cost += price * board["count"]
    require(made == problem["pieces"], "the pieces asked for")
    for place, count in taken.items():
        limit = problem["stock"][place - 1][2]
        require(limit is None or count <= limit, "the boards there are")
    totals = answer["totals"]
    require(money(totals["cost"]) == cost, "the cost")
    bound = money(totals["bound"])
    consistent(totals, cost, bound)
    return cost, bound, totals["proven"]
