//! Resistance of copper conductors: the greatest value of IEC 60228 at 20 °C, and its change with temperature.

use units::{Celsius, Length, Ohms, SquareMm};

/// How a conductor is built, by the classes of IEC 60228.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ConductorClass {
    /// Class 1, one solid wire.
    Solid1,
    /// Class 2, stranded.
    Stranded2,
    /// Class 5, flexible, of fine wires.
    Flexible5,
}

/// Whether the wires are bare or coated (tinned), which raises the resistance a little.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Coating {
    /// Plain annealed copper.
    Plain,
    /// Metal-coated (tinned) annealed copper.
    MetalCoated,
}

/// Temperature coefficient of resistance of annealed copper at 20 °C, in 1/K.
///
/// Source: IEC 60028 (value from memory). IEC 60228 Annex B prints factors that follow `1 / (1 + 0.004 (t - 20))`,
/// which reads 1.2000 at 70 °C where this coefficient gives 1.1965: 0.29 % apart there, 0.38 % at 90 °C, 0.07 % at
/// 30 °C, and the exact `(234.5 + t) / 254.5` agrees with this one to 0.003 %. We use the coefficient because the
/// printed factor is a rounding of it and because 0.3 % of a drop is far inside the reserve of a maximum resistance.
pub const COPPER_ALPHA_20: f64 = 0.00393;

/// One row of the table: area in mm², then the greatest resistance in Ω/km for plain and for metal-coated wires.
type Row = (f64, f64, f64);

/// Classes 1 and 2. Source: IEC 60228:2004, Tables 1 and 2 (read on a cable maker's conductor page that quotes them).
const CLASS_1_AND_2: [Row; 9] = [
    (0.5, 36.0, 36.7),
    (0.75, 24.5, 24.8),
    (1.0, 18.1, 18.2),
    (1.5, 12.1, 12.2),
    (2.5, 7.41, 7.56),
    (4.0, 4.61, 4.70),
    (6.0, 3.08, 3.11),
    (10.0, 1.83, 1.84),
    (16.0, 1.15, 1.16),
];

/// Class 5. Source: IEC 60228:2004, Table 3 (read on two pages that quote it and agree).
const CLASS_5: [Row; 9] = [
    (0.5, 39.0, 40.1),
    (0.75, 26.0, 26.7),
    (1.0, 19.5, 20.0),
    (1.5, 13.3, 13.7),
    (2.5, 7.98, 8.21),
    (4.0, 4.95, 5.09),
    (6.0, 3.30, 3.39),
    (10.0, 1.91, 1.95),
    (16.0, 1.21, 1.24),
];

/// The nominal areas of the tables, in mm², smallest first.
///
/// Source: IEC 60228:2004, the areas of Tables 1 to 3 from 0.5 mm² to 16 mm².
pub const STANDARD_AREAS_MM2: [f64; 9] = [0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0];

/// The nominal areas of the tables, smallest first.
pub fn standard_sizes() -> impl Iterator<Item = SquareMm> {
    STANDARD_AREAS_MM2.into_iter().map(SquareMm::new)
}

/// The greatest resistance at 20 °C in Ω/km, or `None` for an area that is not a standard one.
///
/// # Sources
/// IEC 60228:2004, Tables 1 to 3.
#[must_use]
pub fn ohms_per_km_20(class: ConductorClass, coating: Coating, area: SquareMm) -> Option<f64> {
    let table = match class {
        ConductorClass::Solid1 | ConductorClass::Stranded2 => &CLASS_1_AND_2,
        ConductorClass::Flexible5 => &CLASS_5,
    };
    let (_, plain, coated) = table.iter().find(|row| (row.0 - area.get()).abs() < 1e-9)?;
    Some(match coating {
        Coating::Plain => *plain,
        Coating::MetalCoated => *coated,
    })
}

/// By what the resistance at 20 °C is multiplied at another temperature, or `None` outside −100 °C to 250 °C.
///
/// # Sources
/// `1 + α20 (t − 20)`, see [`COPPER_ALPHA_20`].
#[must_use]
pub fn temperature_factor(at: Celsius) -> Option<f64> {
    // The straight line stands for copper only near ordinary temperatures, and would turn negative far below.
    (-100.0..=250.0).contains(&at.get()).then(|| 1.0 + COPPER_ALPHA_20 * (at.get() - 20.0))
}

/// The greatest resistance of one conductor of this length, or `None` for an area that is not a standard one, a
/// negative length or a temperature out of range.
#[must_use]
pub fn resistance(
    class: ConductorClass,
    coating: Coating,
    area: SquareMm,
    length: Length,
    at: Celsius,
) -> Option<Ohms> {
    if length < Length::ZERO {
        return None;
    }
    let per_km = ohms_per_km_20(class, coating, area)?;
    Ohms::checked(per_km / 1000.0 * length.to_m() * temperature_factor(at)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_areas_of_both_tables_are_the_standard_ones() {
        for (index, area) in STANDARD_AREAS_MM2.into_iter().enumerate() {
            assert_eq!(CLASS_1_AND_2[index].0, area);
            assert_eq!(CLASS_5[index].0, area);
        }
    }

    #[test]
    fn a_ten_metre_core_of_one_and_a_half_has_its_table_value() {
        // 13.3 Ω/km over 10 m at 20 °C, by hand.
        let ohms = resistance(
            ConductorClass::Flexible5,
            Coating::Plain,
            SquareMm::new(1.5),
            Length::mm(10_000),
            Celsius::new(20.0),
        )
        .unwrap();
        assert!((ohms.get() - 0.133).abs() < 1e-15);
    }

    #[test]
    fn what_is_not_in_the_table_has_no_value() {
        let plain = |area, length, at| {
            resistance(ConductorClass::Solid1, Coating::Plain, SquareMm::new(area), length, Celsius::new(at))
        };
        assert_eq!(plain(1.25, Length::mm(1), 20.0), None);
        assert_eq!(plain(1.5, Length::mm(-1), 20.0), None);
        assert_eq!(plain(1.5, Length::mm(1), -273.0), None);
        assert_eq!(plain(1.5, Length::ZERO, 20.0), Some(Ohms::ZERO));
    }
}
