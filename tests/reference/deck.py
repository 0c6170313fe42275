"""Random decks: the numbers in 1/8 um, the same as a job file, and the
geometry worked out from the numbers alone."""

from dataclasses import dataclass, field
from fractions import Fraction

INCH = 203_200
MM = 8_000


@dataclass
class Stock:
    length: int
    price: int | None  # cents
    on_hand: int = 0
    available: int | None = None
    bundle: int = 1
    per_foot: str | None = None  # as written, when the price is by the foot


@dataclass
class Deck:
    unit: str
    along: int
    across: int
    edges: dict  # name -> ("wall", clearance) or ("open", fascia, overhang, allowance)
    face: int
    gap: int
    stock: list = field(default_factory=list)
    extras: list = field(default_factory=list)  # (label, length, count)
    spacing: int = 0
    first: int = 0
    thickness: int = 0
    positions: list | None = None
    finish: str = "rip-last"
    stagger: int = 0
    stagger_joists: int = 0
    keep_out: list = field(default_factory=list)
    repeat: int | None = None
    same_joist_after: int = 1
    shortest: int = 0
    bearing: int = 1
    end_gap: int = 0
    joint_price: int = 0
    doubled_price: int = 0
    kerf: int = 0
    end_trim: int = 0
    split_rips: bool = False
    rip_kerf: int = 0

    def kept_out(self, at):
        return any(a <= at <= b for a, b in self.keep_out)

    # Geometry.

    def reach(self, edge):
        kind, *values = self.edges[edge]
        return -values[0] if kind == "wall" else values[0] + values[1]

    def allowance(self, edge):
        kind, *values = self.edges[edge]
        return 0 if kind == "wall" else values[2]

    def run(self):
        return -self.reach("left"), self.along + self.reach("right")

    def supports(self):
        if self.positions is not None:
            return list(self.positions)
        half = self.thickness // 2
        left, right = half, self.along - (self.thickness - half)
        meant = []
        at = self.first
        while at < right:
            if at > left:
                meant.append(at)
            at += self.spacing
        stands = []
        for at in meant:
            moved = at
            if at - left < self.thickness:
                moved = left + self.thickness
            elif right - at < self.thickness:
                moved = right - self.thickness
            stands.append((at, moved))
        kept = [
            moved
            for index, (at, moved) in enumerate(stands)
            if at == moved
            or all(
                abs(other - moved) >= self.thickness
                for place, other in enumerate([s[1] for s in stands] + [left, right])
                if place != index
            )
        ]
        return sorted([left, *kept, right])

    def courses(self):
        """(from, to) across of every course laid."""
        width = self.across + self.reach("first") + self.reach("last")
        pitch = self.face + self.gap
        count = -(-(width + self.gap) // pitch)
        last = width - (count - 1) * pitch
        widths = [self.face] * count
        if last <= 0:
            widths.pop()
        elif last < self.face:
            both = last + self.face
            if self.finish == "rip-first":
                widths[0] = last
            elif self.finish == "leave-out":
                widths.pop()
            elif self.finish == "balanced" and count >= 2:
                widths[0], widths[-1] = both // 2, both - both // 2
            elif self.finish == "shared" and count >= 3:
                widths[-2], widths[-1] = both // 2, both - both // 2
            else:
                widths[-1] = last
        laid, at = [], 0
        for wide in widths:
            laid.append((at, at + wide))
            at += wide + self.gap
        return laid

    def split_course(self):
        """The course of which two strips come from one board, if any."""
        fits = [
            index
            for index, (a, b) in enumerate(self.courses())
            if self.split_rips and b - a < self.face and 2 * (b - a) + self.rip_kerf <= self.face
        ]
        assert len(fits) <= 1
        return fits[0] if fits else None

    # The job file.

    def written(self, units):
        """A length as a job file has it, exactly."""
        step, name = (INCH, "in") if self.unit == "in" else (MM, "mm")
        value = Fraction(units, step)
        text = f"{value.numerator / value.denominator:.10f}".rstrip("0").rstrip(".")
        assert round(Fraction(text) * step) == units
        return f'"{text}{name}"'

    def toml(self):
        say = self.written
        lines = [f'title = "Random"\nunit = "{self.unit}"\n[deck]']
        lines += [f"along = {say(self.along)}", f"across = {say(self.across)}"]
        for name, (kind, *values) in self.edges.items():
            lines.append(f"[edge.{name}]")
            if kind == "wall":
                lines.append(f"wall_clearance = {say(values[0])}")
            else:
                lines += [f"fascia = {say(values[0])}", f"overhang = {say(values[1])}"]
                if values[2]:
                    lines.append(f"allowance = {say(values[2])}")
        lines += ["[board]", f"face = {say(self.face)}"]
        lines += ["[[fastener]]", 'name = "clip"', f"gap = {say(self.gap)}"]
        for stock in self.stock:
            lines += ["[[stock]]", f"length = {say(stock.length)}", f"on_hand = {stock.on_hand}"]
            if stock.per_foot is not None:
                lines.append(f"price_per_foot = {stock.per_foot}")
            elif stock.price is not None:
                lines.append(f"price = {cents(stock.price)}")
            if stock.available is not None:
                lines.append(f"available = {stock.available}")
            lines.append(f"bundle = {stock.bundle}")
        for label, length, count in self.extras:
            lines += ["[[extra]]", f'label = "{label}"', f"length = {say(length)}"]
            lines.append(f"count = {count}")
        lines += ["[joists]", f"thickness = {say(self.thickness)}"]
        if self.positions is None:
            lines += [f"spacing = {say(self.spacing)}", f"first = {say(self.first)}"]
        else:
            lines.append(f"positions = [{', '.join(map(say, self.positions))}]")
        lines += ["[courses]", f'finish = "{self.finish}"', "[joints]"]
        lines += [
            f"stagger = {say(self.stagger)}",
            f"stagger_joists = {self.stagger_joists}",
            f"keep_out = [{', '.join(f'[{say(a)}, {say(b)}]' for a, b in self.keep_out)}]",
            f"repeat = {self.repeat}" if self.repeat else "",
            f"same_joist_after = {self.same_joist_after}",
            f"shortest_piece = {say(self.shortest)}",
            f"bearing = {self.bearing}",
            f"end_gap = {say(self.end_gap)}",
            f"price = {cents(self.joint_price)}",
            f"doubled_joist_price = {cents(self.doubled_price)}",
            "[cutting]",
            f"kerf = {say(self.kerf)}",
            f"end_trim = {say(self.end_trim)}",
            f"split_rips = {str(self.split_rips).lower()}",
            f"rip_kerf = {say(self.rip_kerf)}",
        ]
        return "\n".join(lines) + "\n"


def cents(amount):
    return f'"{amount // 100}.{amount % 100:02d}"'


def random_deck(rng):
    """A deck of 1 to 12 courses, up to 24 ft long, every rule varied; most are
    small enough for the solver to finish."""
    small = rng.random() < 0.75
    metric = rng.random() < 0.3
    step = MM if metric else INCH // 4
    foot = 300 * MM if metric else 12 * INCH
    pick = rng.choice

    def edge(ends):
        if rng.random() < 0.25:
            return ("wall", step * rng.randint(0, 2))
        allowance = step * pick([0, 0, 2, 3]) if ends else 0
        return ("open", step * pick([0, 0, 3]), step * rng.randint(-1, 5), allowance)

    edges = {name: edge(name in ("left", "right")) for name in ("first", "last", "left", "right")}
    along = foot * rng.randint(4, 12 if small else 24) + step * rng.randint(0, 47)
    deck = Deck(
        unit="mm" if metric else "in",
        along=along,
        across=0,
        edges=edges,
        face=pick([145, 120, 90]) * MM if metric else pick([22, 14, 29]) * step,
        gap=pick([5, 6, 8]) * MM if metric else pick([6350 * 4, 6350 * 6, 6350 * 8]),
        spacing=pick([400, 450, 600]) * MM if metric else pick([12, 16, 24]) * INCH,
        thickness=38 * MM if metric else 6 * step,
        finish=pick(["rip-last", "rip-last", "rip-first", "balanced", "shared", "leave-out"]),
        stagger=pick([2 * foot, 2 * foot, 0, step * rng.randint(0, 192)]),
        same_joist_after=pick([1, 1, 1, 0, 2, 3]),
        shortest=pick([0, 0, foot, 2 * foot, 3 * foot]),
        bearing=pick([3, 3, 2, 2, 1, 4]),
        end_gap=pick([0, 0, INCH // 8, 2 * rng.randint(1, 20_000) + 1]),
        joint_price=pick([0, 0, 100, 37, 450]),
        doubled_price=pick([0, 0, 0, 825]),
        kerf=pick([0, 3 * MM if metric else INCH // 8]),
        end_trim=step * pick([0, 0, 0, 1, 4]),
        split_rips=rng.random() < 0.35,
        rip_kerf=3 * MM if metric else INCH // 8,
    )
    courses = rng.randint(1, 6 if small else 12)
    short = pick([0, step * rng.randint(0, 8), deck.face * rng.randint(0, 999) // 1000])
    if not metric:
        short -= short % 3175
    width = (deck.face + deck.gap) * courses - deck.gap - short
    deck.across = max(step, width - deck.reach("first") - deck.reach("last"))
    deck.first = deck.spacing * rng.randint(1, 8) // 8 if rng.random() < 0.3 else deck.spacing
    if rng.random() < 0.25:
        deck.positions = [deck.thickness // 2]
        end = along - (deck.thickness - deck.thickness // 2)
        while (at := deck.positions[-1] + deck.spacing * rng.randint(3, 8) // 8) < end:
            deck.positions.append(at)
        if end > deck.positions[-1]:
            deck.positions.append(end)
    for _ in range(rng.randint(1, 3 if small else 4)):
        length = foot * rng.randint(3 if small else 6, 12 if small else 20)
        available = rng.randint(0, 12) if rng.random() < 0.25 else None
        stock = Stock(length, None, rng.randint(1, 4) if rng.random() < 0.2 else 0, available)
        if available != 0 or rng.random() < 0.5:
            if not metric and rng.random() < 0.3:
                rate = rng.randint(7_001, 33_333)  # hundredths of a cent a foot
                stock.per_foot = f"{rate / 10_000:.4f}"
                exact = Fraction(rate * length, 12 * INCH * 100)
                stock.price = int(exact + Fraction(1, 2))
            else:
                stock.price = length // foot * rng.randint(97, 331) + rng.randint(0, 211)
        deck.stock.append(stock)
    seldom(rng, deck, step)
    return deck


def seldom(rng, deck, step):
    """Rules that most decks do without."""
    deck.stagger_joists = rng.choice([0, 0, 0, 0, 1, 2, 3])
    if rng.random() < 0.25:
        supports = deck.supports()
        for _ in range(rng.randint(1, 2)):
            low, high = sorted([rng.choice(supports), rng.choice(supports)])
            inside = step * rng.randint(-1, 1)
            if low + inside <= high - inside:
                deck.keep_out.append((low + inside, high - inside))
    if rng.random() < 0.25:
        for label in ["tread", "hatch"][: rng.randint(1, 2)]:
            stock = rng.choice(deck.stock).length
            part = stock * rng.randint(60, 1010) // 1000
            length = rng.choice([deck.along // rng.randint(1, 4), part])
            length = max(step, length - length % step)
            deck.extras.append((label, length, rng.randint(1, 6)))
    deck.repeat = rng.choice([None, None, None, None, None, 2, 3, 1])
    if rng.random() < 0.3:
        for stock in deck.stock:
            stock.bundle = rng.choice([1, 2, 3, 5, 4])
