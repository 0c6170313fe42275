//! How mistakes are said: the message, the place, the way out.

use super::{SMALL, read, small_and};

/// A text and what is said of it.
fn said(text: &str) -> String {
    match read(text, &[]) {
        Ok(checked) if checked.findings.problems.is_empty() => "accepted".to_owned(),
        Ok(checked) => checked.findings.to_string(),
        Err(findings) => findings.to_string(),
    }
}

/// Each case with a rule between them.
fn all(cases: &[String]) -> String {
    let said: Vec<String> = cases.iter().map(|text| said(text)).collect();
    said.join("\n\n----\n\n")
}

/// The small job with lines added.
pub(super) fn with(lines: &[&str]) -> String {
    all(&lines.iter().map(|line| small_and(line)).collect::<Vec<_>>())
}

/// The small job with something in place of something else.
fn instead(changes: &[(&str, &str)]) -> String {
    let cases: Vec<String> = changes
        .iter()
        .map(|(from, to)| {
            assert!(SMALL.contains(from), "{from}");
            SMALL.replace(from, to)
        })
        .collect();
    all(&cases)
}

#[test]
fn a_file_full_of_mistakes_is_told_all_of_them() {
    let text = r#"title = 5
unit = "furlong"
color = "red"
[deck]
along = 22ft 4in
acros = "13ft 2in"
tolerance = -1
kerf = 3
[edge.last]
wall_clearance = "1/4in"
overhang = "1in"
[edge.first]
overhang = { set = 3, least = 1, most = 2 }
allowance = "1/2in"
[board]
face = "5-1/2in"
width = "5in"
[[fastener]]
name = "slim"
gap = "6in"
[[fastener]]
name = "Slim"
[[stock]]
length = "16ft"
[[stock]]
length = "-3ft"
price = "4,5"
price_per_foot = 2
[joists]
positions = ["3/4in", "32in", "16in", "16in", "90ft"]
first = 3
[courses]
finish = "balance"
mixed = { fastener = "slimm", gaps = 400 }
[order]
spare = "3"
"#;
    snapshot!(said(text));
}

#[test]
fn files_that_are_no_job() {
    let cases = [
        "",
        "\n \n# only a comment\n",
        "This is a letter about a deck.\nIt has no fields.\n",
        "{\"deck\": {\"along\": 240}}",
        "deck = 5\nboard = []\nfastener = \"clip\"\n",
        "[deck\nalong = 3\n",
        "[[deck]]\nalong = 3\n[fastener]\nname = \"a\"\n[board]\n",
        "[deck]\nalong = 3\nalong = 4\n[deck]\n",
        "[deck]\nalong = \"13ft 2-1/2\"\"\nacross = 'a\n",
        "[deck]\nalong = 13ft\nacross = 5-1/2\"\n[board]\nface = 5-1/2in\n",
    ];
    snapshot!(all(&cases.map(str::to_owned)));
}

#[test]
fn lengths_that_cannot_be() {
    snapshot!(instead(&[
        ("\"20ft\"", "\"20 cubits\""),
        ("\"20ft\"", "\"-20ft\""),
        ("\"20ft\"", "0"),
        ("\"20ft\"", "true"),
        ("\"20ft\"", "\"\""),
        ("\"20ft\"", "1001-01-01"),
        ("\"20ft\"", "\"1001ft\""),
        ("\"20ft\"", "1e3"),
        ("\"20ft\"", "nan"),
        ("\"20ft\"", "99999999999999999999"),
        ("\"13ft 2in\"", "\"13-2-1/2\""),
        ("\"5-1/2in\"", "\"0.000001mm\""),
        ("\"5-1/2in\"", "{ set = 5 }"),
    ]));
}

#[test]
fn gaps_that_cannot_be() {
    snapshot!(instead(&[
        ("\"3/16in\"", "\"5-1/2in\""),
        ("\"3/16in\"", "-0.1"),
        ("\"3/16in\"", "{ set = 0.2, least = 0.3 }"),
        ("\"3/16in\"", "{ set = 0.2, least = 0.3, most = 0.1 }"),
        ("\"3/16in\"", "{ least = 0.1, most = 0.3 }"),
        ("\"3/16in\"", "{ set = 0.2, most = 6 }"),
        ("\"3/16in\"", "0.2\nplug = { pack = 50 }"),
        ("\"3/16in\"", "0.2\nkind = \"face\"\nstarter = {}"),
        (
            "gap  = \"3/16in\"",
            "trial = { boards = 10, over = \"4ft 6in\" }"
        ),
        (
            "gap  = \"3/16in\"",
            "trial = { boards = 2, over = \"17in\" }"
        ),
        ("gap  = \"3/16in\"", "trial = { boards = 1, over = 5 }"),
        ("gap  = \"3/16in\"", "trial = { over = 5 }"),
        (
            "\"3/16in\"",
            "\"1/4in\"\ntrial = { boards = 10, over = \"4ft 8-11/16in\" }"
        ),
        ("name = \"slim clip\"\n", ""),
        ("\"slim clip\"", "\"\""),
        ("\"slim clip\"", "\"a\\nb\""),
    ]));
}

#[test]
fn packs_that_cannot_be() {
    let packs = |lines: &str| ("name = \"slim clip\"", format!("name = \"clip\"\n{lines}"));
    let cases = [
        "pack = 90\npacks = [{ pieces = 90, price = 24.90 }]",
        "price = 0.30\npacks = [{ pieces = 90, price = 24.90 }]",
        "packs = [{ pieces = 90 }, { price = 84 }]",
        "packs = [{ pieces = 0, price = 24.90 }, { pieces = 350, price = -84 }]",
        "packs = { pieces = 90, price = 24.90 }",
        "packs = [90, 350]",
        "pack = 0",
        "pack = \"5 stone\"",
        "pack = \"0 lb\"",
        "pack = \"5 lb\"",
        "pack = \"5 lb\"\nper_pound = 85\nper_kg = 187",
        "pack = 5\nper_pound = 85",
        "per_kg = 187",
        "pack = \"0.01 lb\"\nper_pound = 85",
        "pack = \"1000 lb\"\nper_pound = 1000000",
        "packs = [{ weight = \"5 lb\", price = 39 }, { price = 84 }]",
        "per_pound = 85\npacks = [{ pieces = 90, weight = \"1 lb\", price = 3 }]",
        "per_pound = 85\npacks = [{ weight = 5, price = 39 }]",
        "starter = { pack = \"1 lb\" }\nplug = { per_pound = 300 }",
    ]
    .map(packs);
    let cases: Vec<_> = cases
        .iter()
        .map(|(old, new)| (*old, new.as_str()))
        .collect();
    snapshot!(instead(&cases));
}

#[test]
fn edges_that_cannot_be() {
    snapshot!(with(&[
        "[edge.last]\nwall_clearance = 1\nfascia = 1\n",
        "[edge.right]\nwall_clearance = 1\nallowance = 1\noverhang = 2\n",
        "[edge.first]\nallowance = 1\n",
        "[edge.first]\nwall_clearance = \"-1in\"\n",
        "[edge.first]\noverhang = \"-7ft\"\n[edge.last]\nwall_clearance = \"6ft 2in\"\n",
        "[edge.left]\noverhang = \"-20ft\"\n",
        "[edge.front]\noverhang = 1\n",
    ]));
}

#[test]
fn boards_that_cannot_be() {
    snapshot!(with(&[
        "[[stock]]\nlength = \"16ft\"\n",
        "[[stock]]\nlength = \"16ft\"\non_hand = 3\n",
        "[[stock]]\nprice = 40\n",
        "[[stock]]\nlength = \"16ft\"\nprice = -4\n",
        "[[stock]]\nlength = \"16ft\"\nprice = 41.505\n",
        "[[stock]]\nlength = \"16ft\"\nprice_per_foot = 2.12345\n",
        "[[stock]]\nlength = \"16ft\"\nprice = \"cheap\"\n",
        "[[stock]]\nlength = \"16ft\"\nprice = true\n",
        "[[stock]]\nlength = \"16ft\"\nprice_per_foot = 2\nprice_per_metre = 7\n",
        "[[stock]]\nlength = \"900ft\"\nprice_per_foot = 99999999\n",
        "[[stock]]\nlength = \"16ft\"\nprice = 40\navailable = -1\n",
        "[[stock]]\nlength = \"16ft\"\nprice = 40\nbundle = 0\n",
        "[joists]\n[[stock]]\nlength = \"16ft\"\nprice = 40\navailable = 10\nbundle = 4\n",
        "[[stock]]\nlength = \"16ft\"\nprice = 40\non_hand = \"two\"\n",
        "[[stock]]\nlength = \"16ft\"\nprice = 40\non_hand = 1.5\n",
        "[[stock]]\nlength = \"16ft\"\nprice = 40\non_hand = 99999999\n",
        "[[stock]]\nlength = 16\nprice = 40\n[cutting]\nend_trim = 8\n",
        "[joists]\n[[stock]]\nlength = \"16ft\"\nprice = 40\n[[stock]]\nlength = 192\nprice = 42\n",
        "[[stock]]\nlength = \"16ft\"\nprice = 40\n",
        "[stock]\nlength = \"16ft\"\nprice = 40\n",
    ]));
}

#[test]
fn other_pieces_that_cannot_be() {
    snapshot!(with(&[
        "[[extra]]\nlabel = \"tread\"\n",
        "[[extra]]\nlabel = \"\"\nlength = -3\ncount = 0\n",
        "[extra]\nlabel = \"tread\"\nlength = 36\ncount = 3\n",
        "[[extra]]\nlabel = \"tread\"\nlength = 36\ncount = 3\n\
         [[extra]]\nlabel = \"Tread\"\nlength = 40\ncount = 1\n",
    ]));
}

#[test]
fn lumber_that_cannot_be() {
    snapshot!(with(&[
        "[[lumber]]\nsize = \"2x8\"\n",
        "[[lumber]]\nsize = \"2x8\"\nlength = \"12ft\"\n",
        "[[lumber]]\nsize = \"joist\"\nlength = \"12ft\"\nprice = 9\n",
        "[[lumber]]\nsize = \"2x8\"\nlength = \"12ft\"\nprice = 9\ndepth = \"7-1/4in\"\n\
         [[lumber]]\nsize = \"2X8\"\nlength = \"16ft\"\nprice = 9\ndepth = \"7in\"\ntreated = true\n",
        "[[lumber]]\nsize = \"2x8\"\nlength = 3\nprice = 9\nprice_per_foot = 2\n\
         [cutting]\nend_trim = 2\n",
        "[frame]\njoist = \"2x8\"\n",
    ]));
}

#[test]
fn goods_that_cannot_be() {
    snapshot!(with(&[
        "[[item]]\nitem = \"sealer\"\n",
        "[[item]]\ngroup = \"basis\"\nitem = \"\"\ncount = 0\nunit = \"bags of 20\"\nprice = -1\n",
        "[item]\ngroup = \"other\"\nitem = \"sealer\"\ncount = 1\n",
        "[[item]]\ngroup = \"other\"\nitem = \"sealer\"\ncount = 1.5\n",
        "[[item]]\ngroup = \"other\"\nitem = \"sealer\"\ncount = 1\n\
         [[item]]\ngroup = \"other\"\nitem = \"Sealer\"\ncount = 2\n",
        "[[item]]\ngroup = \"other\"\nitem = \"sealer\"\ncount = 1000\nprice = 999999999\n",
    ]));
}

#[test]
fn orders_that_cannot_be() {
    snapshot!(with(&[
        "[order]\ntax = 8.25\ncontingency = \"120%\"\ndelivery = -5\nbudget = \"much\"\n",
        "[order]\ndelivery_taxed = true\n",
        "[[order.stage]]\nname = \"first\"\n",
        "[[order.stage]]\nname = \"first\"\ngroups = \"frame\"\n",
        "[[order.stage]]\nname = \"first\"\ngroups = []\n",
        "[[order.stage]]\nname = \"a\"\ngroups = [\"frame\", \"walls\"]\n\
         [[order.stage]]\nname = \"b\"\ngroups = [\"Frame\"]\n",
        "[[order.stage]]\nname = \"a\"\ngroups = [\"frame\"]\n\
         [[order.stage]]\nname = \"b\"\ngroups = [\"base\", \"frame\"]\n",
        "[[fastener]]\nname = \"plug\"\ngap = 0.1\nminutes = \"2\"\ncourse_minutes = 601\n",
        "[[stock]]\nlength = \"12ft\"\nprice = 9\nitem = \"board A\"\n\
         [[stock]]\nlength = \"16ft\"\nprice = 12\nitem = \"Board a\"\n",
    ]));
}

#[test]
fn frames_that_cannot_be() {
    let framed = |lines: &str| {
        small_and(&format!(
            "[[lumber]]\nsize = \"2x8\"\nlength = \"12ft\"\nprice = 9\n\
             [frame]\njoist = \"2x8\"\n{lines}\n"
        ))
    };
    let cases = [
        "rim = \"2x9\"\nrims = 3",
        "ledger = \"2x8\"",
        "ledger = \"2x8\"\n[edge.left]\nclearance = 0",
        "flashing = { length = \"10ft\" }\nledger_fastener = { spacing = 16 }",
        "blocking = { pattern = \"zigzag\" }",
        "beam = { size = \"2x8\" }",
        "beam = { size = \"4x10\", count = 2, positions = [\"9ft\"] }",
        "beam = { size = \"2x8\", positions = [\"9ft\", \"3ft\", \"20ft\"] }",
        "beam = { size = \"2x8\", positions = [], plies = 900 }",
        "tape = { width = 2, roll = \"4in\", overlap = 6 }",
        "hanger = { price = -1, nails = 1.5 }\npreservative = { ends = 0 }",
        "[joists]\nthickness = 2",
        "[[frame.fastener]]\nname = \"nail\"",
        "[[frame.fastener]]\njoist_end = 0\nplies = { at_each = 2 }\npack = \"5 lb\"",
    ];
    snapshot!(all(&cases.map(framed)));
}

#[test]
fn fascias_that_cannot_be() {
    let dressed = |lines: &str| {
        small_and(&format!(
            "[edge.last]\nfascia = \"3/4in\"\n[edge.left]\nfascia = 1\n\
             [edge.right]\nclearance = 0\n[fascia]\n{lines}\n"
        ))
    };
    let boards = "stock = [{ length = \"12ft\", price = 9 }]";
    let cases = [
        "height = \"9-1/4in\"",
        boards,
        &format!("{boards}\nedges = [\"front\", \"lsat\"]"),
        &format!("{boards}\nedges = \"last\""),
        &format!("{boards}\nedges = []"),
        &format!("{boards}\nedges = [\"last\", \"right\", \"first\", \"last\"]"),
        &format!("{boards}\nedges = [\"last\"]\ncorners = \"butted\"\nreturns = 12"),
        &format!("{boards}\nedges = [\"last\"]\nreturns = 1\nscarf = \"3/4in\""),
        &format!("{boards}\nedges = [\"last\"]\nplug = {{}}\nadhesive = {{}}"),
        "edges = [\"last\"]\nstock = []",
        "edges = [\"last\"]\nstock = [{ length = 12, available = 0 }]\nend_trim = 6",
        &format!(
            "{boards}\nedges = [\"last\"]\nheight = \"5-1/2in\"\n\
             [[lumber]]\nsize = \"2x8\"\nlength = \"12ft\"\nprice = 9\n\
             [frame]\njoist = \"2x8\""
        ),
    ];
    // Without any fascia at the edges there is none to cut.
    let none = small_and(&format!("[fascia]\n{boards}\n"));
    let cases: Vec<String> = cases.map(dressed).into_iter().chain([none]).collect();
    snapshot!(all(&cases));
}

#[test]
fn joists_that_cannot_be() {
    snapshot!(with(&[
        "[joists]\nspacing = 0\n",
        "[joists]\nspacing = 1\n",
        "[joists]\nspacing = \"0.001in\"\nthickness = \"0.001in\"\n",
        "[joists]\nfirst = \"21ft\"\n",
        "[joists]\nfirst = -3\n",
        "[joists]\npositions = []\n",
        "[joists]\npositions = \"16in\"\n",
        "[joists]\npositions = [0, \"x\", 16, 3]\n",
        "[joists]\npositions = [-1, 16, 16, 8, 241]\n",
        "[joists]\npositions = [1, 239]\nfirst = 3\n",
        "[joints]\nend_gap = 2\n",
    ]));
}

#[test]
fn rules_that_cannot_be() {
    snapshot!(with(&[
        "[courses]\nfinish = \"nice\"\n",
        "[courses]\nfinish = 3\n",
        "[courses]\nmixed = { fastener = \"screws\", gaps = 3 }\n",
        "[courses]\nmixed = { fastener = \"slim clip\", gaps = 28 }\n",
        "[courses]\nmixed = { fastener = \"slim clip\" }\n",
        "[joints]\nbearing = 0\nstagger = \"-1in\"\nsame_joist_after = -1\n",
        "[cutting]\nkerf = -1\nsplit_rips = \"yes\"\n",
        "[joints]\nstagger_joists = -1\nkeep_out = 3\nrepeat = 0\n",
        "[joints]\nkeep_out = [3, [1, 2, 3], [\"4ft\", \"3ft\"], [1, \"x\"]]\n",
        "[order]\nspare = \"many\"\n",
        "[order]\nspare = \"101%\"\n",
        "[order]\nspare = 1.5\n",
    ]));
}

#[test]
fn boards_and_frames_out_of_proportion() {
    let cases = [
        SMALL.replace(
            "face =",
            "face_tolerance = 6\nuncertainty = 5.5\nnarrowest_rip = 9\nface =",
        ),
        SMALL.replace("along  =", "tolerance = \"14ft\"\nalong  ="),
        SMALL
            .replace("\"5-1/2in\"", "\"0.01in\"")
            .replace("3/16in", "0in"),
    ];
    snapshot!(all(&cases));
}

#[test]
fn misplaced_and_misspelt_names() {
    snapshot!(with(&[
        "[joint]\nstagger = 3\n",
        "[joints]\nkerf = 1\nstager = 3\n",
        "[sheet]\npaper = \"A4\"\n",
        "[board.face]\nwidth = 3\n",
    ]));
}

#[test]
fn movement_that_cannot_be() {
    snapshot!(with(&[
        "[board.wood]\nmoisture_now = \"19%\"\nmoisture_service = \"12%\"\n",
        "[board.wood]\nspecies = \"redwood\"\nmoisture_now = 19\ngrain = \"rift\"\n",
        "[board.wood]\ncoefficient = 0.0000001\nmoisture_now = \"19%\"\nmoisture_service = \"12%\"\n",
        "[board.expansion]\ncoefficient = 3.4e-5\nlaid_at = 60\ncoldest = \"0F\"\nhottest = \"500F\"\n",
        "[board.expansion]\nlaid_at = \"60F\"\ncoldest = \"20C\"\nhottest = \"50C\"\n",
        "[board.expansion]\nlaid_at = \"60F\"\ncoldest = \"50C\"\nhottest = \"50C\"\n",
        "[board.expansion]\nlaid_at = \"160F\"\ncoldest = \"0F\"\nhottest = \"50C\"\n\
         [board.wood]\nspecies = \"ipe\"\nmoisture_now = \"19%\"\nmoisture_service = \"12%\"\n",
    ]));
}

#[test]
fn stairs_that_cannot_be() {
    snapshot!(with(&[
        "[[stairs]]\nrise = \"30in\"\n",
        "[[stairs]]\nrise = 30\nwidth = \"2in\"\nrisers = 0\n",
        "[[stairs]]\nrise = 30\nwidth = 36\nscrews = { pack = \"5 lb\", per_pound = 0 }\n",
        "[[stairs]]\nrise = \"30in\"\nwidth = \"2in\"\n",
        "[[stairs]]\nrise = \"300ft\"\nwidth = \"3ft\"\n",
        "[[stairs]]\nrise = \"30in\"\nwidth = \"3ft\"\nrun = \"10ft\"\n",
        "[[stairs]]\nrise = \"30in\"\nwidth = \"3ft\"\nstringer_spacing = \"1/2in\"\n",
        "[[stairs]]\nrise = \"30in\"\nwidth = \"3ft\"\ntread_least = \"90ft\"\n",
        "[[stairs]]\nname = \"garden\"\nrise = \"30in\"\nwidth = \"3ft\"\n\
         [[stairs]]\nname = \"Garden\"\nrise = \"20in\"\nwidth = \"3ft\"\n",
        "[[stairs]]\nrise = \"30in\"\nwidth = \"3ft\"\nstringer = [{ price = 12 }]\n",
        "[[stairs]]\nrise = \"30in\"\nwidth = \"3ft\"\nstringer_size = \"2x8\"\nstringer = [{ length = 144 }]\n",
        "[[stairs]]\nrise = \"30in\"\nwidth = \"3ft\"\nstringer_size = \"2x12\"\n\
         [[lumber]]\nsize = \"2x8\"\nlength = \"14ft\"\nprice = 9\n[frame]\njoist = \"2x8\"\n",
        "[[stairs]]\nrise = \"30in\"\nwidth = \"3ft\"\n\
         [[extra]]\nlabel = \"stairs tread\"\nlength = \"3ft\"\ncount = 2\n",
    ]));
}
