//! Catalogues that can't be read: each case changes one thing in a good one and names every line that has to come.
//!
//! The wording is ours and has no outside source; that every case is refused, in full and by place, is the claim.

mod common;

use common::{CATALOGUE, spoilt};

/// What is changed, into what, and the lines that have to come, without the name of the file.
const CASES: &[(&str, &str, &[&str])] = &[
    (
        "invented = true",
        "invented = true\ninvented = false",
        &["4:1: $: not TOML: duplicate key; accepted: TOML 1.0 with each field name once"],
    ),
    (
        "invented = true",
        "invented = ",
        &[
            "3:12: $: not TOML: string values must be quoted, expected literal string; accepted: TOML 1.0 with each field name once",
        ],
    ),
    (
        "invented = true",
        "invented = maybe",
        &[
            "3:12: $: not TOML: string values must be quoted, expected literal string; accepted: TOML 1.0 with each field name once",
        ],
    ),
    (
        "schema_version = 1\n",
        "schema_version = 3\n",
        &["1:18: $.schema_version: 3 is newer than this release of Newel reads; install a newer release; accepted: 1"],
    ),
    (
        "currency = \"EUR\"",
        "currency = \"EUX\"",
        &["4:12: $.currency: \"EUX\" has another form; accepted: an ISO 4217 code such as \"EUR\""],
    ),
    (
        "currency = \"EUR\"",
        "currency = \"€\"",
        &["4:12: $.currency: \"€\" has another form; accepted: an ISO 4217 code such as \"EUR\""],
    ),
    (
        "priced_on = 2026-01-15",
        "priced_on = \"2026-13-01\"",
        &["5:13: $.priced_on: \"2026-13-01\" has another form; accepted: a day such as \"2026-05-04\""],
    ),
    (
        "priced_on = 2026-01-15",
        "priced_on = 2026-01-15T10:00:00",
        &["5:13: $.priced_on: \"2026-01-15T10:00:00\" has another form; accepted: a day such as \"2026-05-04\""],
    ),
    (
        "price = 18.50",
        "price = -1",
        &[
            "10:9: $.luminaires[0].price: -1 is no amount of money; accepted: an amount from 0 to 1000000000 with at most four decimals, such as 12.50",
        ],
    ),
    (
        "price = 18.50",
        "price = 18.12345",
        &[
            "10:9: $.luminaires[0].price: 18.12345 is no amount of money; accepted: an amount from 0 to 1000000000 with at most four decimals, such as 12.50",
        ],
    ),
    (
        "price = 18.50",
        "price = \"12,50\"",
        &[
            "10:9: $.luminaires[0].price: \"12,50\" is no amount of money; accepted: an amount from 0 to 1000000000 with at most four decimals, such as 12.50",
        ],
    ),
    (
        "price = 18.50",
        "price = nan",
        &[
            "10:9: $.luminaires[0].price: nan is no amount of money; accepted: an amount from 0 to 1000000000 with at most four decimals, such as 12.50",
        ],
    ),
    (
        "price = 18.50",
        "price = 1e3",
        &[
            "10:9: $.luminaires[0].price: 1e3 is no amount of money; accepted: an amount from 0 to 1000000000 with at most four decimals, such as 12.50",
        ],
    ),
    (
        "price = 30\n",
        "",
        &[
            "60:1: $.controls[0].price: is missing; accepted: an amount from 0 to 1000000000 with at most four decimals, such as 12.50",
        ],
    ),
    (
        "part = \"D60\"",
        "part = \"P12\"",
        &[
            "24:8: $.drivers[0].part: \"P12\" is given twice, first in line 8; accepted: each part reference once in the whole catalogue",
        ],
    ),
    (
        "part = \"D60\"",
        "part = \"\"",
        &[
            "24:8: $.drivers[0].part: \"\" is too short; accepted: a text of 1 to 64 characters without control characters",
        ],
    ),
    (
        "least_v = 10.8",
        "least_v = 12.5",
        &["12:13: $.luminaires[0].nominal_v: 12 is less than least_v, 12.5; accepted: 12.5 or more"],
    ),
    (
        "greatest_v = 13.2",
        "greatest_v = 11",
        &["14:14: $.luminaires[0].greatest_v: 11 is less than nominal_v, 12; accepted: 12 or more"],
    ),
    (
        "nominal_v = 12\nleast_v",
        "nominal_v = inf\nleast_v",
        &["12:13: $.luminaires[0].nominal_v: inf is no finite number; accepted: a number above 0, up to 1000 V"],
    ),
    (
        "nominal_v = 12\nleast_v",
        "nominal_v = 0\nleast_v",
        &["12:13: $.luminaires[0].nominal_v: 0 is outside its limits; accepted: a number above 0, up to 1000 V"],
    ),
    (
        "nominal_v = 12\nleast_v",
        "nominal_v = \"12 V\"\nleast_v",
        &["12:13: $.luminaires[0].nominal_v: \"12 V\" is of another type; accepted: a number above 0, up to 1000 V"],
    ),
    (
        "amps = 0.05",
        "amps = -0.05",
        &["15:35: $.luminaires[0].load.amps: -0.05 is outside its limits; accepted: a number above 0, up to 10000 A"],
    ),
    (
        "amps = 0.05",
        "amps = 0",
        &["15:35: $.luminaires[0].load.amps: 0 is outside its limits; accepted: a number above 0, up to 10000 A"],
    ),
    (
        "load = { kind = \"current\", amps = 0.05 }",
        "load = { kind = \"impedance\", ohms = 3 }",
        &[
            "15:17: $.luminaires[0].load.kind: \"impedance\" is none of the kinds that can stand here; accepted: current, power, resistance",
        ],
    ),
    (
        "load = { kind = \"current\", amps = 0.05 }",
        "load = { kind = \"power\", amps = 3 }",
        &[
            "15:8: $.luminaires[0].load.watts: is missing; accepted: a number above 0, up to 100000 W",
            "15:26: $.luminaires[0].load.amps: is an unknown field; accepted: kind, watts",
        ],
    ),
    (
        "light = { kind = \"white\", kelvin = 3000, cri = 80 }",
        "light = { kind = \"variable\", channels = 3 }",
        &["21:9: $.luminaires[0].cores: 2 does not fit the light: 2 cores, or 1 and one for each channel; accepted: 4"],
    ),
    (
        "cri = 80",
        "cri = 180",
        &["16:48: $.luminaires[0].light.cri: 180 is outside its limits; accepted: a whole number from 0 to 100"],
    ),
    (
        "flux_lm = 32.5",
        "flux_lm = 32.55",
        &[
            "17:11: $.luminaires[0].flux_lm: 32.55 has too many decimals; accepted: a number from 0 to 100000 lm with at most one decimal",
        ],
    ),
    (
        "ingress = \"IP66/IP68\"",
        "ingress = \"IP66+68\"",
        &[
            "18:11: $.luminaires[0].ingress: \"IP66+68\" has another form; accepted: an IEC 60529 code such as \"IP66\" or \"IP66/IP68\"",
        ],
    ),
    (
        "ingress = \"IP66/IP68\"",
        "ingress = \"IP75\"",
        &[
            "18:11: $.luminaires[0].ingress: \"IP75\" has another form; accepted: an IEC 60529 code such as \"IP66\" or \"IP66/IP68\"",
        ],
    ),
    (
        "impact_ik = 8",
        "impact_ik = 12",
        &["19:13: $.luminaires[0].impact_ik: 12 is outside its limits; accepted: a whole number from 0 to 11"],
    ),
    (
        "wall_greatest_mm = 4",
        "wall_greatest_mm = 1",
        &["11:106: $.luminaires[0].shape.wall_greatest_mm: 1 is less than wall_least_mm, 1.5; accepted: 1.5 or more"],
    ),
    (
        "hole_mm = 24",
        "hole_mm = 40",
        &["11:37: $.luminaires[0].shape.hole_mm: 40 is no less than tube_least_mm, 38; accepted: less than 38"],
    ),
    (
        "hole_mm = 24, hole_tolerance_mm = 0.2",
        "hole_mm = 24, hole_tolerance_mm = -0.2",
        &[
            "11:61: $.luminaires[0].shape.hole_tolerance_mm: -0.2 is outside its limits; accepted: a length from 0 mm to 100 km, as a number in mm or a text such as \"2.45 m\"",
        ],
    ),
    (
        "retention = \"pressed\"",
        "retention = \"rivets\"",
        &[
            "11:156: $.luminaires[0].shape.retention: \"rivets\" needs its details beside its kind; accepted: pressed, or a table with kind rivets and its details",
        ],
    ),
    (
        "retention = \"pressed\"",
        "retention = { kind = \"rivets\", count = 0, diameter_mm = 3 }",
        &[
            "11:183: $.luminaires[0].shape.retention.count: 0 is outside its limits; accepted: a whole number from 1 to 20",
        ],
    ),
    (
        "hole_mm = 24",
        "hole_mm = 24, slot_mm = 3",
        &[
            "11:41: $.luminaires[0].shape.slot_mm: is an unknown field; accepted: depth_mm, hole_mm, hole_tolerance_mm, kind, retention, tail_mm, tail_mm2, tube_least_mm, wall_greatest_mm, wall_least_mm",
        ],
    ),
    (
        "tolerance_percent = 2.5",
        "tolerance_percent = 250",
        &[
            "28:21: $.drivers[0].tolerance_percent: 250 is outside its limits; accepted: a number from 0 to 100 % with at most one decimal",
        ],
    ),
    (
        "tolerance_percent = 2.5",
        "tolerance_percent = 2.55",
        &[
            "28:21: $.drivers[0].tolerance_percent: 2.55 has too many decimals; accepted: a number from 0 to 100 % with at most one decimal",
        ],
    ),
    (
        "outputs = 2",
        "outputs = 0",
        &["30:11: $.drivers[0].outputs: 0 is outside its limits; accepted: a whole number from 1 to 32"],
    ),
    (
        "to_c = 60",
        "to_c = 40",
        &["32:37: $.drivers[0].derating.to_c: 40 is less than full_to_c, 45; accepted: 45 or more"],
    ),
    (
        "to_percent = 50",
        "to_percent = 150",
        &["32:54: $.drivers[0].derating.to_percent: 150 is outside its limits; accepted: a whole number from 0 to 100"],
    ),
    (
        "efficiency_percent = 88",
        "efficiency_percent = 0",
        &["35:22: $.drivers[0].efficiency_percent: 0 is outside its limits; accepted: a whole number from 1 to 100"],
    ),
    (
        "overload = \"hiccup\"",
        "overload = \"burns\"",
        &[
            "38:12: $.drivers[0].overload: \"burns\" is none of the words that can stand here; accepted: limits_current, hiccup, shuts_down",
        ],
    ),
    (
        "selv = true",
        "selv = \"yes\"",
        &["40:8: $.drivers[0].selv: \"yes\" is of another type; accepted: true or false"],
    ),
    ("selv = true\n", "", &["23:1: $.drivers[0].selv: is missing; accepted: true or false"]),
    (
        "uses = [\"extension\"]",
        "uses = [\"extension\", \"extension\"]",
        &["50:22: $.leads[0].uses[1]: \"extension\" is given twice; accepted: each use once"],
    ),
    (
        "uses = [\"extension\"]",
        "uses = []",
        &["50:8: $.leads[0].uses: [] has 0 items; accepted: a list of 1 to 6 items"],
    ),
    (
        "uses = [\"extension\"]",
        "uses = [\"ladder\"]",
        &[
            "50:9: $.leads[0].uses[0]: \"ladder\" is none of the words that can stand here; accepted: mains, extension, luminaire, run, link, control",
        ],
    ),
    (
        "price = 0\n",
        "price = 5\n",
        &["49:9: $.leads[0].price: 5 stands beside made-up lengths that have prices of their own; accepted: 0"],
    ),
    (
        "length_mm = \"5 m\"",
        "length_mm = \"2 m\"",
        &["51:90: $.leads[0].supply.lengths[1].length_mm: \"2 m\" is given twice; accepted: each made-up length once"],
    ),
    (
        "area_mm2 = 1.5",
        "area_mm2 = -1.5",
        &["54:12: $.leads[0].area_mm2: -1.5 is outside its limits; accepted: a number above 0, up to 1000 mm²"],
    ),
    (
        "area_mm2 = 1.5",
        "area_mm2 = 1e300",
        &["54:12: $.leads[0].area_mm2: 1e300 is outside its limits; accepted: a number above 0, up to 1000 mm²"],
    ),
    (
        "class = \"flexible\"",
        "class = 5",
        &["55:9: $.leads[0].class: 5 is none of the words that can stand here; accepted: solid, stranded, flexible"],
    ),
    (
        "device = \"relay\"",
        "device = \"decoder\"",
        &[
            "64:10: $.controls[0].device: \"decoder\" needs its details beside its kind; accepted: dusk_sensor, relay, dimmer, wall_station, or a table with kind sensor or decoder and its details",
        ],
    ),
    (
        "section_mm2 = 18",
        "section_mm2 = 18, colour = \"red\"",
        &[
            "73:60: $.fixings[0].purpose.colour: is an unknown field; accepted: greatest_a, kind, milliohms, section_mm2",
        ],
    ),
    (
        "hole_minutes = 6",
        "hole_minutes = -6",
        &["77:16: $.labour.hole_minutes: -6 is outside its limits; accepted: a whole number from 0 to 100000"],
    ),
    (
        "hole_minutes = 6",
        "hole_minutes = 6.5",
        &["77:16: $.labour.hole_minutes: 6.5 is no whole number; accepted: a whole number from 0 to 100000"],
    ),
    (
        "[labour]\nhour_price = 62\n",
        "[labour]\n",
        &[
            "75:1: $.labour.hour_price: is missing; accepted: an amount from 0 to 1000000000 with at most four decimals, such as 12.50",
        ],
    ),
    (
        "[[fixings]]",
        "[[fittings]]",
        &[
            "69:3: $.fittings: is an unknown field; accepted: controls, currency, drivers, fixings, invented, label, labour, leads, luminaires, priced_on, schema_version",
        ],
    ),
];

#[test]
fn the_good_catalogue_is_read_to_the_last_figure() {
    let catalogue = desk::read_catalogue(CATALOGUE.as_bytes(), "c.toml").unwrap_or_else(|faults| panic!("{faults}"));
    let point = catalogue.luminaire("P12").expect("the point");
    assert_eq!(point.item.price.to_string(), "18.50");
    assert_eq!((point.ingress.first, point.ingress.second.as_slice()), (Some(6), [6, 8].as_slice()));
    assert_eq!(point.flux_tenths_lm, 325);
    assert_eq!(catalogue.driver("D60").expect("the driver").tolerance_permille, 25);
    assert_eq!(catalogue.priced_on, "2026-01-15");
}

#[test]
fn every_fault_is_one_line_with_place_value_and_what_is_accepted() {
    let mut differing = Vec::new();
    for (from, to, lines) in CASES {
        let text = spoilt(CATALOGUE, from, to);
        let got = match desk::read_catalogue(text.as_bytes(), "c.toml") {
            Ok(_) => vec!["read without a fault".to_owned()],
            Err(faults) => faults.lines(),
        };
        let wanted: Vec<String> = lines.iter().map(|line| format!("c.toml:{line}")).collect();
        if got != wanted {
            differing.push(format!("{from} -> {to}\n  got    {got:#?}\n  wanted {wanted:#?}"));
        }
    }
    assert!(differing.is_empty(), "{}", differing.join("\n"));
}

#[test]
fn every_price_is_read_exactly() {
    // A tenth has no exact double; the text in the file is what is read.
    for (raw, ten_thousandths) in
        [("0.1", 1_000), ("0.0001", 1), ("999999999.9999", 9_999_999_999_999), ("\"7\"", 70_000)]
    {
        let text = spoilt(CATALOGUE, "price = 18.50", &format!("price = {raw}"));
        let catalogue = desk::read_catalogue(text.as_bytes(), "c.toml").unwrap_or_else(|faults| panic!("{faults}"));
        assert_eq!(catalogue.luminaires[0].item.price.to_ten_thousandths(), ten_thousandths, "{raw}");
    }
}

#[test]
fn each_syntax_fault_of_a_toml_file_is_listed() {
    let text = CATALOGUE
        .replace("invented = true", "invented = ")
        .replace("cores = 2\n\n[[drivers]]", "cores = \n\n[[drivers]]");
    let faults = desk::read_catalogue(text.as_bytes(), "c.toml").expect_err("two slips");
    let lines: Vec<usize> = faults.list.iter().map(|fault| fault.line).collect();
    assert_eq!(lines, [3, 21], "{faults}");
}

#[test]
fn a_catalogue_is_read_from_json_as_from_toml() {
    let toml = desk::read_catalogue(CATALOGUE.as_bytes(), "c.toml").unwrap_or_else(|faults| panic!("{faults}"));
    let wire: desk::wire::catalogue::Catalogue = desk::wire::Mirror::from_plain(&toml);
    let json = desk::json_text(&wire);
    assert_eq!(desk::read_catalogue(json.as_bytes(), "c.json").unwrap_or_else(|faults| panic!("{faults}")), toml);
}
