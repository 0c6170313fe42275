//! The moisture that wood comes to in air of a temperature and a humidity. It
//! knows the Wood Handbook's equation for it; where the air comes from, and that
//! rain and sun take wood outdoors above and below it, is left to people.

use crate::job::{Air, Percent};

/// Whole numbers stand for so many parts of one.
const ONE: i128 = 1_000_000_000_000;

/// The moisture in equilibrium with air, to the nearest hundredth of a per cent:
/// equation 4-5 of the Wood Handbook, FPL-GTR-190, in degrees Celsius,
///
/// `M = 1800 / W (K h / (1 - K h) + (K1 K h + 2 K1 K2 K² h²) / (1 + K1 K h + K1 K2 K² h²))`.
pub fn equilibrium(air: Air) -> Percent {
    // 1/90 °C, in which fiftieths of a degree Fahrenheit are whole.
    let ninetieths = i128::from(air.temperature.fiftieths_f() - 1_600);
    // Each coefficient in thousand-millionths.
    let at = |constant: i128, linear: i128, square: i128| {
        let unit = ONE / 1_000_000_000;
        (constant + (linear * ninetieths) / 90 + (square * ninetieths * ninetieths) / 8_100) * unit
    };
    let times = |one: i128, other: i128| one * other / ONE;
    let w = at(349_000_000_000, 1_290_000_000, 13_500_000);
    let k = at(805_000_000, 736_000, -2_730);
    let k1 = at(6_270_000_000, -9_380_000, -303_000);
    let k2 = at(1_910_000_000, 40_700_000, -293_000);
    let h = ONE * i128::from(air.humidity.0) / 10_000;
    let kh = times(k, h);
    let first = times(k1, kh);
    let second = times(times(k1, k2), times(kh, kh));
    let sorbed = kh * ONE / (ONE - kh) + (first + 2 * second) * ONE / (ONE + first + second);
    // 1800 / W is per cent; 100 of a per cent are counted.
    let hundredths = (180_000 * sorbed + w / 2) / w;
    Percent(u32::try_from(hundredths).unwrap_or_default())
}
