//! A scene as PNG, drawn from its SVG by a general renderer in the typeface that
//! its room was reckoned for, so that it looks alike on every machine.

use std::sync::Arc;

use resvg::tiny_skia::{Color, Pixmap, Transform};
use resvg::usvg::fontdb::Database;
use resvg::usvg::{Options, Tree};

use super::letters::shown;
use super::scene::{Scene, Shape};
use super::svg::{Extent, svg};

/// That a picture could not be made, and why.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the picture cannot be drawn: {0}")]
pub struct PngError(String);

/// The whole sheet as PNG, with so many dots to the inch.
///
/// # Errors
/// That the renderer refuses it, as where it would be too large.
pub fn png(scene: &Scene, dots: u32) -> Result<Vec<u8>, PngError> {
    let mut fonts = Database::new();
    fonts.load_font_data(dejavu::sans::regular().to_vec());
    fonts.load_font_data(dejavu::sans::bold().to_vec());
    fonts.set_sans_serif_family("DejaVu Sans");
    let options = Options {
        dpi: dots as f32,
        fontdb: Arc::new(fonts),
        ..Options::default()
    };
    let mut scene = scene.clone();
    for item in &mut scene.items {
        if let Shape::Text(text) = &mut item.shape {
            text.words = shown(&text.words, text.bold).into_owned();
        }
    }
    let tree = Tree::from_str(&svg(&scene, Extent::Sheet), &options)
        .map_err(|error| PngError(error.to_string()))?;
    let size = tree.size().to_int_size();
    let mut picture = Pixmap::new(size.width(), size.height())
        .ok_or_else(|| PngError("it has no size".to_owned()))?;
    // Dots that the sheet covers in part are white too.
    picture.fill(Color::WHITE);
    resvg::render(&tree, Transform::identity(), &mut picture.as_mut());
    picture
        .encode_png()
        .map_err(|error| PngError(error.to_string()))
}
