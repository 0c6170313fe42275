//! The attached deck of the fixtures, and the same made large.

/// The attached deck.
pub const HERON_YARD: &str = include_str!("../../fixtures/heron-yard-deck.toml");

/// The attached deck made 60 ft by 30 ft, its beams at even places.
pub fn large() -> String {
    let larger = HERON_YARD
        .replace("along     = \"31ft 6in\"", "along     = \"60ft\"")
        .replace("across    = \"18ft\"", "across    = \"30ft\"")
        .replace("positions = [\"9ft\", \"17ft\"]", "count = 3")
        // Joists of 30 ft in one piece.
        .replace(
            "size    = \"2x8\"\nlength  = \"20ft\"",
            "size    = \"2x8\"\nlength  = \"30ft\"",
        );
    assert_ne!(larger, HERON_YARD);
    larger
}
