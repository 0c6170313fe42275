"""The same questions as whole-number programs for HiGHS, written from the
rules: courses as paths over the supports, boards as fillings."""

from collections import defaultdict

import highspy
import numpy as np

MOST_FILLINGS = 10_000


class Model:
    """Rows and columns gathered one by one."""

    def __init__(self):
        self.cost, self.upper = [], []
        self.entries = defaultdict(dict)  # row -> column -> factor
        self.rows = []

    def column(self, cost=0, upper=1):
        self.cost.append(cost)
        self.upper.append(upper)
        return len(self.cost) - 1

    def row(self, terms, low, high):
        for column, factor in terms:
            row = self.entries[len(self.rows)]
            row[column] = row.get(column, 0) + factor
        self.rows.append((low, high))

    def solve(self, seconds):
        """(value or None, bound, finished): exact only when finished."""
        h = highspy.Highs()
        for name, value in [
            ("output_flag", False),
            ("time_limit", float(seconds)),
            ("mip_rel_gap", 0.0),
            ("mip_abs_gap", 0.0),
            ("threads", 1),
        ]:
            h.setOptionValue(name, value)
        lp = highspy.HighsLp()
        lp.num_col_, lp.num_row_ = len(self.cost), len(self.rows)
        lp.col_cost_ = np.array(self.cost, dtype=float)
        lp.col_lower_ = np.zeros(len(self.cost))
        lp.col_upper_ = np.array(self.upper, dtype=float)
        lp.row_lower_ = np.array([low for low, _ in self.rows], dtype=float)
        lp.row_upper_ = np.array([high for _, high in self.rows], dtype=float)
        start, index, value = [0], [], []
        for row in range(len(self.rows)):
            for column, factor in self.entries[row].items():
                index.append(column)
                value.append(factor)
            start.append(len(index))
        lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        lp.a_matrix_.start_ = np.array(start, dtype=np.int32)
        lp.a_matrix_.index_ = np.array(index, dtype=np.int32)
        lp.a_matrix_.value_ = np.array(value, dtype=float)
        lp.integrality_ = [highspy.HighsVarType.kInteger] * len(self.cost)
        h.passModel(lp)
        h.run()
        status, info = h.getModelStatus(), h.getInfo()
        if status == highspy.HighsModelStatus.kInfeasible:
            return None, None, True
        finished = status == highspy.HighsModelStatus.kOptimal
        has_plan = info.primal_solution_status == 2
        value = None
        if has_plan:
            # Whole columns and whole costs: the value again, exactly.
            columns = h.getSolution().col_value
            value = sum(c * round(x) for c, x in zip(self.cost, columns))
            if any(abs(x - round(x)) > 1e-5 for x in columns):
                return None, None, False
        return value, info.mip_dual_bound, finished


INF = highspy.kHighsInf


def fillings(lengths, strip, room, kerf, most):
    """Every way to fill a board until nothing more fits; `strip` marks the
    pieces that may be used, `most` limits how often each."""
    usable = sorted((i for i in range(len(lengths)) if strip(i)), key=lambda i: -lengths[i])
    found = []

    def fill(place, room, chosen):
        if len(found) > MOST_FILLINGS:
            return
        if place == len(usable):
            full = all(
                chosen.get(i, 0) == most[i] or lengths[i] + kerf > room for i in usable
            )
            if full and chosen:
                found.append(dict(chosen))
            return
        i = usable[place]
        fits = min(most[i], room // (lengths[i] + kerf) if lengths[i] + kerf <= room else 0)
        for count in range(fits, -1, -1):
            if count:
                chosen[i] = count
            else:
                chosen.pop(i, None)
            fill(place + 1, room - count * (lengths[i] + kerf), chosen)

    fill(0, room + kerf, {})
    return found if len(found) <= MOST_FILLINGS else None


def board_columns(model, kinds, splits, most, sources, kerf, weigh):
    """Columns for boards and their limits; kind -> [(column, pieces)]."""
    supply = defaultdict(list)
    everything = lambda i: True
    for room, price, length, limit, bundle in sources:
        ways = fillings(kinds, everything, room, kerf, most)
        if ways is None:
            return None
        if splits:
            strips = fillings(kinds, lambda i: i in splits, room, kerf, most)
            if strips is None or len(strips) ** 2 > 2 * MOST_FILLINGS:
                return None
            for a, one in enumerate(strips):
                for other in strips[a:]:
                    ways.append({i: one.get(i, 0) + other.get(i, 0) for i in {*one, *other}})
        columns = []
        for way in ways:
            column = model.column(weigh(price, length) if bundle == 1 else 0, sum(most))
            columns.append((column, 1))
            for kind, count in way.items():
                supply[kind].append((column, count))
        if limit is not None:
            model.row(columns, 0, limit // bundle * bundle)
        if bundle > 1:
            paid = model.column(weigh(price, length) * bundle, sum(most))
            model.row(columns + [(paid, -bundle)], -INF, 0)
    return supply


def plan(deck, prefer, seconds):
    """(value or None, bound, finished), or nothing when the model is too large."""
    supports, (start, end) = deck.supports(), deck.run()
    inner = supports[1:-1]
    low, high = deck.end_gap // 2, deck.end_gap - deck.end_gap // 2
    nodes = [None, *inner, None]
    last = len(nodes) - 1
    arcs = []
    for i in range(last):
        for j in range(i + 1, last + 1):
            a = start if i == 0 else nodes[i] + high
            b = end if j == last else nodes[j] - low
            left, right = (start if i == 0 else nodes[i]), (end if j == last else nodes[j])
            if any(k not in (0, last) and deck.kept_out(nodes[k]) for k in (i, j)):
                continue
            single = i == 0 and j == last
            under = sum(left <= s <= right for s in supports)
            if b <= a or not single and (b - a < deck.shortest or under < deck.bearing):
                continue
            cut = b - a + deck.allowance("left") * (i == 0)
            arcs.append((i, j, cut + deck.allowance("right") * (j == last)))
    count, split = len(deck.courses()), deck.split_course()
    lengths = sorted({cut for *_, cut in arcs})
    others = [length for _, length, _ in deck.extras]
    kinds = sorted({(cut, False) for cut in lengths + others})
    if split is not None:
        kinds += [(cut, True) for cut in lengths]
    extra = defaultdict(int)
    for _, length, wanted in deck.extras:
        extra[length, False] += wanted
    place = {kind: index for index, kind in enumerate(kinds)}
    splits = {index for index, (_, strip) in enumerate(kinds) if strip}
    sources = []
    for stock in deck.stock:
        room = stock.length - 2 * deck.end_trim
        if stock.on_hand:
            sources.append((room, 0, stock.length, stock.on_hand, 1))
        if stock.price is not None and stock.available != 0:
            sources.append((room, stock.price, stock.length, stock.available, stock.bundle))
    longest = max((room for room, *_ in sources), default=0)
    arcs = [arc for arc in arcs if arc[2] <= longest]
    # A course may hold several pieces of one length, be it cut with an allowance.
    per_course = defaultdict(int)
    for *_, cut in arcs:
        per_course[cut] = max(per_course[cut], (end - start) // cut, 1)
    most = [
        per_course[cut] * (1 if strip else count - (split is not None)) + extra[cut, strip]
        for cut, strip in kinds
    ]
    model = Model()
    weigh = {
        "cost": lambda price, length: price,
        "joints": lambda price, length: 0,
        "waste": lambda price, length: length // 25,
    }[prefer]
    supply = board_columns(model, [c for c, _ in kinds], splits, most, sources, deck.kerf, weigh)
    if supply is None:
        return None
    joint_cost = {"cost": deck.joint_price, "joints": 1, "waste": 0}[prefer]
    need, on, into = defaultdict(list), {}, {}
    round_of = min(deck.repeat or count, count)
    columns = {}
    for course in range(count):
        leave, enter = defaultdict(list), defaultdict(list)
        for i, j, cut in arcs:
            # A course that lies like an earlier one has the same columns.
            like = course % round_of
            times = len(range(like, count, round_of))
            if (like, i, j) not in columns:
                columns[like, i, j] = model.column(joint_cost * times if j != last else 0)
            column = columns[like, i, j]
            leave[i].append((column, 1))
            enter[j].append((column, -1))
            need[place[cut, course == split]].append((column, -1))
        model.row(leave[0], 1, 1)
        for node in range(1, last):
            model.row(leave[node] + enter[node], 0, 0)
            into[course, node] = [(column, 1) for column, _ in enter[node]]
    for kind in range(len(kinds)):
        model.row(supply[kind] + need[kind], extra[kinds[kind]], INF)
    for course in range(count):
        for node in range(1, last):
            here = into[course, node]
            # The joints of the next course too near to this one. One course's
            # own joints may be near each other, so each is barred by itself
            # unless a row over all of them says the same.
            if course + 1 < count:
                near = [
                    m
                    for m in range(1, last)
                    if abs(nodes[m] - nodes[node]) < deck.stagger
                    or abs(m - node) < deck.stagger_joists
                ]
                for m in near:
                    model.row(here + into[course + 1, m], 0, 1)
            for apart in range(1, deck.same_joist_after + 1):
                if course + apart < count:
                    model.row(here + into[course + apart, node], 0, 1)
    # What no plan breaks, to help the solver: joints of two neighbours in a
    # window narrower than the stagger and than any piece.
    shortest = min((nodes[j] - nodes[i] for i, j, _ in arcs if 0 < i and j < last), default=INF)
    for course in range(count - 1):
        for node in range(1, last):
            window = [
                m
                for m in range(node, last)
                if nodes[m] - nodes[node] < min(deck.stagger, shortest)
            ]
            both = [t for m in window for c in (course, course + 1) for t in into[c, m]]
            model.row(both, 0, 1)
    if prefer == "cost" and deck.doubled_price:
        for node in range(1, last):
            double = model.column(deck.doubled_price)
            for course in range(count):
                model.row(into[course, node] + [(double, -1)], -INF, 0)
    value, bound, finished = model.solve(seconds)
    scale = 25 if prefer == "waste" else 1
    return value and value * scale, bound and bound * scale, finished


def cut(problem, seconds):
    """The least cost of a cutting problem, likewise."""
    lengths = sorted(problem["pieces"])
    most = [problem["pieces"][length] for length in lengths]
    model = Model()
    sources = [(length, price, length, limit, 1) for length, price, limit in problem["stock"]]
    weigh = lambda price, length: price
    supply = board_columns(model, lengths, set(), most, sources, problem["kerf"], weigh)
    if supply is None:
        return None
    for index, count in enumerate(most):
        model.row(supply[index], count, INF)
    return model.solve(seconds)
