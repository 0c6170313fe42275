//! The job file's fields: what a person may write, each with its meaning. The
//! reader, the schema and the paths of `--set` all come from these
//! declarations. Values are read, but nothing is filled in and nothing is
//! compared: that is left to [`super::check`].

use super::base::tables::{BagTable, BaseTable};
use super::codes::tables::CodesTable;
use super::fascia::tables::FasciaTable;
use super::framing::tables::{FrameTable, GoodsTable, LumberTable};
use super::guard::tables::GuardTable;
use super::reading::{Entry, Field, Member, Reading, Shape, tables};
use super::tree::Node;
use super::values::{
    Count, Degrees, FinishWord, Flag, FrameWord, GoodsWeight, GrainWord, GroupWord, Groups, Growth,
    KindWord, Lengths, Minutes, NotNegative, PackSize, Pair, PerFoot, PerMetre, PerMoisture,
    Positive, Price, Ranged, Sets, Several, Share, SideWord, Signed, SoldByWord, SpareBoards,
    SpeciesWord, UnitWord, Words, Zones,
};

tables! {
    /// A deck to be covered with boards: the frame, what the boards and fasteners are, what the
    /// yard sells, and the rules the boards are laid and cut by.
    Document {
        required {
            /// The frame the boards lie on.
            deck: DeckTable,
            /// The boards' cross-section.
            board: BoardTable,
            /// The fasteners under consideration; the first is used unless another is asked for.
            fastener or "fasteners": Several<FastenerTable>,
        }
        optional {
            /// What the job is called on everything that is printed.
            title or "name": Words,
            /// The unit of bare numbers, and of everything that is printed: `in` (the default) or `mm`.
            unit or "units": UnitWord,
            /// The sign before amounts of money; `$` by default.
            currency: Words,
            /// What happens at the frame's four edges; open and flush where nothing is said.
            edge or "edges": EdgesTable,
            /// The boards the yard sells, and those on hand.
            stock or "boards": Several<StockTable>,
            /// Other pieces cut from the same boards: stair treads, hatches, benches.
            extra or "extras": Several<ExtraTable>,
            /// Stairs down from the deck; their treads are cut with the courses.
            stairs or "stair": Several<StairsTable>,
            /// The supports under the boards.
            joists or "joist": JoistsTable,
            /// How the courses are laid and finished.
            courses: CoursesTable,
            /// Where butt joints may fall.
            joints: JointsTable,
            /// The saw, and what it takes.
            cutting or "saw": CuttingTable,
            /// What is bought beside the plan.
            order: OrderTable,
            /// Lumber the yard sells for the frame, and what is on hand.
            lumber: Several<LumberTable>,
            /// What the frame is made of.
            frame: FrameTable,
            /// What the fascia is made of.
            fascia: FasciaTable,
            /// What the deck stands on.
            base: BaseTable,
            /// The tables of a code that it is compared with.
            codes or "code": CodesTable,
            /// The guard along its open edges.
            guard or "guards": GuardTable,
            /// Other choices for the same deck, such as other boards, for `order --compare`.
            alternative or "alternatives": Several<AlternativeTable>,
            /// Goods that the program does not count: they are listed in the order and added to its sum.
            item or "items": Several<ItemTable>,
            /// What the tape said while the deck is laid, for `measure`.
            reading or "readings": Several<ReadingTable>,
        }
    }

    /// The frame the boards lie on.
    DeckTable {
        required {
            /// Outside size of the frame parallel to the boards.
            along: Positive,
            /// Outside size of the frame square to the boards.
            across: Positive,
        }
        optional {
            /// Whether the frame is `planned` (the default) or `built`: then its size is not up for change.
            frame: FrameWord,
            /// How true the frame's size is, plus or minus; 0 by default.
            tolerance: NotNegative,
            /// From the ground to the deck's surface where that is highest, which decides whether it needs a guard.
            height: NotNegative,
            /// The frame's diagonals as measured, for `measure`: the one from the first edge's left end to the last edge's right end, then the other.
            diagonals: Pair,
        }
    }

    /// The frame's four edges. `first` and `last` run along the boards, `left` and `right` lie at
    /// their ends.
    EdgesTable {
        required {}
        optional {
            /// The edge where the first course starts.
            first: EdgeTable,
            /// The edge where the last course ends.
            last: EdgeTable,
            /// The edge at the boards' left ends.
            left: EdgeTable,
            /// The edge at the boards' right ends.
            right: EdgeTable,
        }
    }

    /// One edge: open, with a fascia and an overhang, or at a wall, with a clearance.
    EdgeTable {
        required {}
        optional {
            /// Thickness of the fascia between the frame and the overhang; 0 by default.
            fascia: NotNegative,
            /// How far the boards reach past frame and fascia, below 0 if they stop inside; a length, or a range that `fit` may move it in. 0 by default.
            overhang or "nosing": Ranged<Signed>,
            /// Extra length left on the boards here and sawn off in place; `left` and `right` only, 0 by default.
            allowance: NotNegative,
            /// The space left to a wall. An edge that has it is a wall, with no fascia and no overhang.
            wall_clearance or "clearance": NotNegative,
        }
    }

    /// The boards' cross-section and how true it is.
    BoardTable {
        required {
            /// Width of a board that shows, as it is when it is laid.
            face or "width": Positive,
        }
        optional {
            /// How much each board's face varies by itself, plus or minus; 0 by default.
            face_tolerance: NotNegative,
            /// How far the whole batch's face may be off alike, plus or minus; 0 by default.
            uncertainty: NotNegative,
            /// A ripped board narrower than this is a sliver; 2 in or 50 mm by default.
            narrowest_rip: NotNegative,
            /// Wood that shrinks or swells after it is laid.
            wood: WoodTable,
            /// Composite that grows and shrinks along with its temperature.
            expansion or "composite": ExpansionTable,
        }
    }

    /// Wood that shrinks or swells after it is laid: what it is, its moisture when it is laid and
    /// in service.
    WoodTable {
        required {}
        optional {
            /// Moisture of the boards as they are laid, which `face` is measured at; may be left out with `air_now`.
            moisture_now: Share,
            /// Moisture they come to in service; may be left out with `air_service`.
            moisture_service: Share,
            /// In place of `moisture_now`: the air that the boards have lain in long enough to follow it.
            air_now: AirTable,
            /// In place of `moisture_service`: the air around the deck over the year; rain and sun take boards outdoors above and below what follows from it.
            air_service: AirTable,
            /// The wood, whose movement is then taken from the handbook, such as `western-redcedar`, `loblolly-pine` or `ipe`, or `softwood-lumber` where nobody knows (a name that is not known is answered with all that are); may be left out with a `coefficient`.
            species: SpeciesWord,
            /// Change of width by 1 % of moisture as a share of the width at 10 %, in place of the handbook's for the species.
            coefficient: PerMoisture,
            /// How the boards are sawn: `flat` (the default) or `quarter`.
            grain: GrainWord,
            /// The gap wanted in service; what to set now is then told.
            gap_service: NotNegative,
        }
    }

    /// Air: wood that lies in it comes to the moisture that goes with it.
    AirTable {
        required {
            /// Relative humidity, such as `"65%"`.
            humidity: Share,
            /// Temperature, such as `"70F"` or `"20C"`.
            temperature: Degrees,
        }
        optional {}
    }

    /// Composite that grows and shrinks along with its temperature: that of the boards
    /// themselves, which in the sun is above the air's.
    ExpansionTable {
        required {
            /// Temperature of the boards when they are laid, such as `"60F"` or `"15C"`.
            laid_at: Degrees,
            /// The coldest they get.
            coldest: Degrees,
            /// The hottest they get.
            hottest: Degrees,
        }
        optional {
            /// The share of its length that a board grows by a degree, such as `"3.4e-5/F"`, as its maker states it; a published range for wood-plastic boards when left out.
            coefficient: Growth,
        }
    }

    /// A fastener and the gap it leaves between courses.
    FastenerTable {
        required {
            /// What it is called.
            name: Words,
        }
        optional {
            /// The gap between two courses: a length, or the range it can be set in. May be left out with a `trial`.
            gap: Ranged<NotNegative>,
            /// How much each gap varies by itself, plus or minus; 0 by default.
            tolerance: NotNegative,
            /// How far all gaps may be off alike, plus or minus, while the gap is stated and not measured; 0 by default.
            uncertainty: NotNegative,
            /// Whether it is a `clip` between the boards (the default) or goes through the `face`.
            kind: KindWord,
            /// Pieces in a pack, if sold in packs, or its weight, such as `"5 lb"` or `"2.5 kg"`.
            pack: PackSize,
            /// Pieces to the pound, where a pack is a weight.
            per_pound or "per_lb": Count<1>,
            /// Pieces to the kilogram, where a pack is a weight.
            per_kg or "per_kilogram": Count<1>,
            /// Price of a pack, or of a piece if not sold in packs.
            pack_price or "price": Price,
            /// Packs of several sizes, in place of `pack` and `pack_price`: the cheapest that together are enough are ordered.
            packs: Several<PackTable>,
            /// Spares bought beyond the count; none by default.
            spare: Share,
            /// What holds the outer edges of the first and the last course, where it is a clip: starter clips, or screws through the face.
            starter or "starters": GoodsTable,
            /// What closes the hole over each screw, where it goes through the face.
            plug or "plugs": GoodsTable,
            /// Minutes it takes to set one, such as 0.4; none by default.
            minutes or "minutes_each": Minutes,
            /// Minutes that each course laid with it takes besides; none by default.
            course_minutes: Minutes,
            /// A dry run: boards fixed together on the ground and measured over all. The gap it shows is used in place of the stated one.
            trial: TrialTable,
        }
    }

    /// Fasteners sold together.
    PackTable {
        required {
            /// Price of the pack.
            price: Price,
        }
        optional {
            /// Pieces in the pack.
            pieces: Count<1>,
            /// In place of `pieces`: what it weighs, such as `"5 lb"`.
            weight: GoodsWeight,
        }
    }

    /// A dry run of a fastener: boards fixed together on the ground and measured over all.
    TrialTable {
        required {
            /// How many boards lay side by side.
            boards: Count<2>,
            /// Their width over all.
            over: Positive,
        }
        optional {}
    }

    /// Boards of one length, bought or on hand.
    StockTable {
        required {
            /// Length of the boards.
            length: Positive,
        }
        optional {
            /// What the yard calls them, as on its price list; their length and width by default.
            item or "name": Words,
            /// Price of one board; may be left out with `available = 0` or where a price list has it.
            price: Price,
            /// Price of a foot of board, in place of `price`; up to four decimals.
            price_per_foot or "price_per_ft": PerFoot,
            /// Price of a metre of board, in place of `price`; up to four decimals.
            price_per_metre or "price_per_meter" or "price_per_m": PerMetre,
            /// Boards that lie there already and cost nothing; 0 by default.
            on_hand: Count<0>,
            /// The most boards that can be bought; no limit by default.
            available: Count<0>,
            /// Boards in a bundle, where they are sold in whole bundles only: all of a bundle are paid, used or not, and of `available` only whole bundles can be had. The price stays that of one board. 1 by default.
            bundle: Count<1>,
        }
    }

    /// Other pieces of one length, cut from the same whole boards.
    ExtraTable {
        required {
            /// What they are called on the cut list.
            label or "name": Words,
            /// The length each is cut to.
            length: Positive,
            /// How many of them.
            count: Count<1>,
        }
        optional {}
    }

    /// A straight flight of stairs whose top step is the deck.
    StairsTable {
        required {
            /// From the ground, or a landing, up to the deck's surface.
            rise: Positive,
            /// Width of the steps: the length of the tread boards.
            width: Positive,
        }
        optional {
            /// What it is called; `stairs` by default.
            name or "label": Words,
            /// How many risers; as few as `riser_most` allows by default.
            risers: Count<1>,
            /// Run of each step, from front to front; the depth of the tread boards by default. What they are deeper is nosing.
            run: Positive,
            /// Deck boards side by side on each tread, at the first fastener's gap; as few as are as deep as the run by default.
            tread_boards: Count<1>,
            /// Greatest distance of stringers on centre; 16 in or 400 mm by default.
            stringer_spacing: Positive,
            /// Thickness of a stringer; that of its `stringer_size`, else 1-1/2 in or 38 mm by default.
            stringer_thickness: Positive,
            /// The boards stringers are cut from, as the yard sells them; the cheapest that will do are ordered.
            stringer or "stringers": Several<StringerTable>,
            /// In place of `stringer`: the size of `[[lumber]]` that stringers are cut from, together with the frame's lumber of that size.
            stringer_size: Words,
            /// Screws through the faces of the tread boards, two to a board on each stringer, three where it is wider than 8 in.
            screws or "screw": GoodsTable,
            /// The edge they leave the deck at; the last one by default, or an open one.
            edge: SideWord,
            /// How far along that edge they are, from the left end of the first and last edges and from the first edge's end of the others; the middle by default.
            at: NotNegative,
            /// Whether each riser is closed with a board; false by default, true where `riser` or `riser_from_fascia` says with what.
            closed: Flag,
            /// Whether riser boards are cut from the fascia's boards; false by default.
            riser_from_fascia: Flag,
            /// In place of `riser_from_fascia`: a riser board as it is bought, one for each riser.
            riser: GoodsTable,
            /// A handrail as it is bought, such as a length that is enough for the flight.
            handrail: GoodsTable,
            /// How many handrails; 1 by default where `handrail` is given.
            handrails: Count<1>,
            /// Length of a landing at the foot, as wide as the stairs; none by default.
            landing: Positive,
            /// How thick the landing's slab of concrete is; what the landing is made of is left open without it.
            landing_slab: Positive,
            /// The concrete of that slab, in bags.
            landing_bag: BagTable,
            /// The local code's highest riser, in place of 7-3/4 in.
            riser_most: Positive,
            /// The local code's least run of a step, in place of 10 in.
            tread_least: Positive,
            /// The local code's least width of stairs, in place of 36 in.
            width_least: Positive,
        }
    }

    /// A length of board for stringers.
    StringerTable {
        required {
            /// Length of the board.
            length: Positive,
        }
        optional {
            /// Price of one.
            price: Price,
        }
    }

    /// The supports under the boards: a spacing, or exact positions.
    JoistsTable {
        required {}
        optional {
            /// Distance on centre; 16 in or 400 mm by default.
            spacing or "on_centre" or "on_center": Positive,
            /// Centre of the first inner joist from the frame's left side; `spacing` by default.
            first: Positive,
            /// Centres of all joists from the frame's left side, in order; no others are added.
            positions: Lengths,
            /// Thickness of a joist; 1-1/2 in or 38 mm by default.
            thickness: Positive,
        }
    }

    /// How the courses are laid and finished.
    CoursesTable {
        required {}
        optional {
            /// What is done with a course that does not come out whole: `rip-last` (the default), `rip-first`, `balanced`, `shared` or `leave-out`.
            finish: FinishWord,
            /// The last gaps left by another fastener than the rest.
            mixed: MixedTable,
        }
    }

    /// The last gaps of the deck left by another fastener than the rest.
    MixedTable {
        required {
            /// The other fastener's name.
            fastener: Words,
            /// How many gaps, counted back from the last one.
            gaps: Count<0>,
        }
        optional {}
    }

    /// Where butt joints may fall.
    JointsTable {
        required {}
        optional {
            /// Least distance along between joints of neighbouring courses; 24 in or 600 mm by default.
            stagger: NotNegative,
            /// Least count of joists between joints of neighbouring courses, besides the distance: 1 is the next joist, 2 the one after; 0 by default.
            stagger_joists: Count<0>,
            /// Stretches along where no joint may fall, each from and to, counted from the frame's left side; a joist on an end of one is kept free too. None by default.
            keep_out: Zones,
            /// Courses there must be between two joints on one joist; 1 by default.
            same_joist_after: Count<0>,
            /// Courses after which the joints come round again: with 2 every other course is alike. Any order that keeps the rules by default.
            repeat: Count<1>,
            /// The shortest piece of a course that has joints; 0 by default, `bearing` governs.
            shortest_piece: NotNegative,
            /// Joists under each piece of a course that has joints; 3 by default.
            bearing: Count<1>,
            /// The space left between two boards at a joint; 0 by default.
            end_gap: NotNegative,
            /// What one joint is worth avoiding; 0 by default.
            price: Price,
            /// What a joist that carries joints costs more than one that does not; 0 by default.
            doubled_joist_price: Price,
        }
    }

    /// The saw, and what it takes.
    CuttingTable {
        required {}
        optional {
            /// Width of a crosscut; 1/8 in or 3 mm by default.
            kerf: NotNegative,
            /// Taken off each end of a board before it is used, its saw cut included; 0 by default.
            end_trim: NotNegative,
            /// Whether one board may be ripped into two strips for ripped courses; false by default.
            split_rips: Flag,
            /// Width of a rip cut; 1/8 in or 3 mm by default.
            rip_kerf: NotNegative,
        }
    }

    /// What is bought beside the plan.
    OrderTable {
        required {}
        optional {
            /// Spare boards: so many of each length, such as 2, or the share that may be culled, such as `5%`. None by default.
            spare: SpareBoards,
            /// What is set aside for what nobody thought of, as a share of all goods, such as `5%`; none by default.
            contingency: Share,
            /// What one delivery costs; none by default.
            delivery: Price,
            /// Whether delivery is taxed too; false by default.
            delivery_taxed: Flag,
            /// Tax on goods and contingency, such as `8.25%`; none by default.
            tax: Share,
            /// What an hour of labour costs; the fasteners' minutes are then paid. Not taxed.
            hour or "labour" or "labor": Price,
            /// The most that may be spent, all in; what fits and what could be given up is then told.
            budget: Price,
            /// Deliveries one after the other; all at once by default.
            stage or "stages": Several<StageTable>,
        }
    }

    /// One delivery of a job that is done in stages.
    StageTable {
        required {
            /// What it is called.
            name: Words,
            /// The groups of the order it brings: `boards`, `fasteners`, `frame`, `base`, `stairs`, `fascia`, `guard`, `other`. What no stage names comes with the last.
            groups: Groups,
        }
        optional {
            /// When it is wanted, in your own words.
            when or "on": Words,
        }
    }

    /// Another choice for the same deck.
    AlternativeTable {
        required {
            /// What it is called.
            name: Words,
            /// The fields it changes, each as `--set` takes it: `["board.face=7-1/4in", "stock.1.price=58.40"]`.
            set or "sets": Sets,
        }
        optional {}
    }

    /// Goods that the program does not count.
    ItemTable {
        required {
            /// The group of the order they are listed in: `boards`, `fasteners`, `frame`, `base`, `stairs`, `fascia`, `guard` or `other`.
            group: GroupWord,
            /// What they are called.
            item or "name": Words,
            /// How many units are bought.
            count: Count<1>,
        }
        optional {
            /// What they are sold by: `piece` (the default), `pair`, `set`, `pack`, `box`, `bag`, `bucket`, `can`, `roll`, `sheet`, `stick`, `load`, `foot`, `metre`, `sq ft`, `m²`, `cu yd`, `m³`, `lb`, `kg`, `ton`, `tonne`, `hour` or `day`.
            unit or "sold_by": SoldByWord,
            /// Price of one unit; listed without a price when left out.
            price: Price,
        }
    }

    /// What the tape said after a course.
    ReadingTable {
        required {
            /// The course, counted from 1 at the first edge.
            after: Count<1>,
        }
        optional {
            /// From the starting edge to that course's far edge.
            at: Positive,
            /// The same at the courses' left end, where both ends were measured.
            left: Positive,
            /// The same at their right end.
            right: Positive,
            /// The gap that was set since the reading before, or from the start; the fastener's when left out.
            gap: NotNegative,
        }
    }
}
