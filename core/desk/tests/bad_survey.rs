//! Surveys that can't be read: each case changes one thing in a good survey and names every line that has to come.
//!
//! The wording is ours and has no outside source; that every case is refused, in full and by place, is the claim.

mod common;

use common::{SURVEY, spoilt};

/// What is changed, into what, and the lines that have to come, without the name of the file.
const CASES: &[(&str, &str, &[&str])] = &[
    (
        "\"invented\": true, \"surveyed_on\"",
        "\"invented\": true \"surveyed_on\"",
        &["4:64: $.site: not JSON: '\"' stands here; accepted: \",\" or \"}\" after a field"],
    ),
    (
        "\"far_end\": \"welded_cap\",\n",
        "\"far_end\": \"welded_cap\",,\n",
        &["12:119: $.rails[0]: not JSON: ',' stands here; accepted: a field name in quotes"],
    ),
    (
        "\"schema_version\": 1,",
        "\"schema_version\": NaN,",
        &[
            "2:21: $.schema_version: not JSON: 'N' stands here; accepted: a value: a text in quotes, a finite number, true, false, null, [ or {",
        ],
    ),
    (
        "\"schema_version\": 1,",
        "\"schema_version\": 01,",
        &["2:23: $.schema_version: not JSON: a number starts with 0; accepted: a number without leading zeros"],
    ),
    (
        "\"label\": \"Niche\"",
        "\"label\": \"Ni\\qche\"",
        &[
            "27:31: $.driver_places[0].label: not JSON: 'q' stands here; accepted: one of \" \\ / b f n r t u after a backslash",
        ],
    ),
    (
        "\"label\": \"Niche\"",
        "\"label\": \"\\ud800\"",
        &[
            "27:34: $.driver_places[0].label: not JSON: half a surrogate pair; accepted: characters, or whole surrogate pairs",
        ],
    ),
    (
        "        \"target\": {\"kind\": \"spacing\", \"spacing_mm\": 300}, \"zone\": \"z1\"\n      }\n    ]\n  }\n}\n",
        "        \"target\": {\"kind\": \"spacing\", \"spacing_mm\": 300}, \"zone\": \"z1\"\n      }\n    ]\n  }\n",
        &["45:1: $: not JSON: the file ends here; accepted: \",\" or \"}\" after a field"],
    ),
    (
        "        \"target\": {\"kind\": \"spacing\", \"spacing_mm\": 300}, \"zone\": \"z1\"\n      }\n    ]\n  }\n}\n",
        "        \"target\": {\"kind\": \"spacing\", \"spacing_mm\": 300}, \"zone\": \"z1\"\n      }\n    ]\n  }\n}\n{}",
        &["46:1: $: text after the end of the document; accepted: one JSON value and nothing after it"],
    ),
    (
        "\"schema_version\": 1,",
        "\"schema_version\": 2,",
        &["2:21: $.schema_version: 2 is newer than this release of Newel reads; install a newer release; accepted: 1"],
    ),
    (
        "\"schema_version\": 1,",
        "\"schema_version\": \"1\",",
        &["2:21: $.schema_version: \"1\" is of another type; accepted: 1"],
    ),
    (
        "\"schema_version\": 1,",
        "\"schema_version\": 0,",
        &["2:21: $.schema_version: 0 is outside its limits; accepted: 1"],
    ),
    ("\"schema_version\": 1,\n", "", &["1:1: $.schema_version: is missing; accepted: 1"]),
    (
        "\"width_mm\": 40,",
        "\"width_mm\": true,",
        &[
            "20:70: $.rails[0].features[0].width_mm: true is of another type; accepted: a length above 0 mm, up to 100 km, as a number in mm or a text such as \"2.45 m\"",
        ],
    ),
    (
        "\"width_mm\": 40,",
        "\"width_mm\": [40],",
        &[
            "20:70: $.rails[0].features[0].width_mm: [… 1 …] is of another type; accepted: a length above 0 mm, up to 100 km, as a number in mm or a text such as \"2.45 m\"",
        ],
    ),
    (
        "\"width_mm\": 40,",
        "\"width_mm\": null,",
        &[
            "20:70: $.rails[0].features[0].width_mm: null is of another type; accepted: a length above 0 mm, up to 100 km, as a number in mm or a text such as \"2.45 m\"",
        ],
    ),
    (
        "\"invented\": true",
        "\"invented\": \"yes\"",
        &["4:59: $.site.invented: \"yes\" is of another type; accepted: true or false"],
    ),
    (
        "\"label\": \"Plant room\"",
        "\"label\": 7",
        &["25:42: $.mains_points[0].label: 7 is of another type; accepted: a text of at most 10000 characters"],
    ),
    (
        "\"in_sun\": true",
        "\"in_sun\": 1",
        &["7:75: $.site.exposure.in_sun: 1 is of another type; accepted: true or false"],
    ),
    (
        "\"site\": {\n",
        "\"brief\": 1, \"site\": {\n",
        &[
            "3:12: $.brief: 1 is of another type; accepted: a table with drop_percent, loop_per_hole_mm, rails, reserve_percent, spare_percent, zones",
            "36:3: $.brief: is given twice, first in line 3; accepted: each field name once",
        ],
    ),
    (
        "\"tube\": {\"profile\": \"round\", \"outside_diameter_mm\": 48.3, \"material\": \"stainless_steel\"}",
        "\"tube\": \"48.3\"",
        &[
            "18:15: $.rails[0].tube: \"48.3\" is of another type; accepted: a table with profile, outside_diameter_mm, material",
        ],
    ),
    (
        "\"pieces\": [\n        {\"kind\": \"straight\", \"id\": \"s1\", \"length_mm\": 3000},\n        {\"kind\": \"bend\", \"id\": \"b1\", \"angle_deg\": 90, \"plane\": \"left\", \"centreline_radius_mm\": 150},\n        {\"kind\": \"straight\", \"id\": \"s2\", \"length_mm\": \"2.45 m\"}\n      ]",
        "\"pieces\": {}",
        &["13:17: $.rails[0].pieces: {} is of another type; accepted: a list of 1 to 1000 items"],
    ),
    (
        "\"pieces\": [\n        {\"kind\": \"straight\", \"id\": \"s1\", \"length_mm\": 3000},\n        {\"kind\": \"bend\", \"id\": \"b1\", \"angle_deg\": 90, \"plane\": \"left\", \"centreline_radius_mm\": 150},\n        {\"kind\": \"straight\", \"id\": \"s2\", \"length_mm\": \"2.45 m\"}\n      ]",
        "\"pieces\": []",
        &["13:17: $.rails[0].pieces: [] has 0 items; accepted: a list of 1 to 1000 items"],
    ),
    (
        "\"2.45 m\"",
        "\"2.45 V\"",
        &[
            "16:55: $.rails[0].pieces[2].length_mm: \"2.45 V\" is no length; accepted: a length from 0 mm to 100 km, as a number in mm or a text such as \"2.45 m\"",
        ],
    ),
    (
        "\"2.45 m\"",
        "\"2,45 m\"",
        &[
            "16:55: $.rails[0].pieces[2].length_mm: \"2,45 m\" is no length; accepted: a length from 0 mm to 100 km, as a number in mm or a text such as \"2.45 m\"",
        ],
    ),
    (
        "\"2.45 m\"",
        "\"\"",
        &[
            "16:55: $.rails[0].pieces[2].length_mm: \"\" is no length; accepted: a length from 0 mm to 100 km, as a number in mm or a text such as \"2.45 m\"",
        ],
    ),
    (
        "\"2.45 m\"",
        "\"NaN\"",
        &[
            "16:55: $.rails[0].pieces[2].length_mm: \"NaN\" is no length; accepted: a length from 0 mm to 100 km, as a number in mm or a text such as \"2.45 m\"",
        ],
    ),
    (
        "\"2.45 m\"",
        "\"-2.45 m\"",
        &[
            "16:55: $.rails[0].pieces[2].length_mm: \"-2.45 m\" is outside its limits; accepted: a length from 0 mm to 100 km, as a number in mm or a text such as \"2.45 m\"",
        ],
    ),
    (
        "\"2.45 m\"",
        "1e999",
        &[
            "16:55: $.rails[0].pieces[2].length_mm: 1e999 is no finite number; accepted: a length from 0 mm to 100 km, as a number in mm or a text such as \"2.45 m\"",
        ],
    ),
    (
        "\"2.45 m\"",
        "1e12",
        &[
            "16:55: $.rails[0].pieces[2].length_mm: 1e12 is outside its limits; accepted: a length from 0 mm to 100 km, as a number in mm or a text such as \"2.45 m\"",
        ],
    ),
    (
        "\"2.45 m\"",
        "\"101 km\"",
        &[
            "16:55: $.rails[0].pieces[2].length_mm: \"101 km\" is no length; accepted: a length from 0 mm to 100 km, as a number in mm or a text such as \"2.45 m\"",
        ],
    ),
    (
        "\"length_mm\": 3000",
        "\"length_mm\": -3000",
        &[
            "14:55: $.rails[0].pieces[0].length_mm: -3000 is outside its limits; accepted: a length from 0 mm to 100 km, as a number in mm or a text such as \"2.45 m\"",
        ],
    ),
    (
        "\"width_mm\": 40,",
        "\"width_mm\": -40,",
        &[
            "20:70: $.rails[0].features[0].width_mm: -40 is outside its limits; accepted: a length above 0 mm, up to 100 km, as a number in mm or a text such as \"2.45 m\"",
        ],
    ),
    (
        "\"width_mm\": 40,",
        "\"width_mm\": 0,",
        &[
            "20:70: $.rails[0].features[0].width_mm: 0 is outside its limits; accepted: a length above 0 mm, up to 100 km, as a number in mm or a text such as \"2.45 m\"",
        ],
    ),
    (
        "\"width_mm\": 40,",
        "\"width_mm\": 0.0001,",
        &[
            "20:70: $.rails[0].features[0].width_mm: 0.0001 is outside its limits; accepted: a length above 0 mm, up to 100 km, as a number in mm or a text such as \"2.45 m\"",
        ],
    ),
    (
        "\"ambient_c\": 35",
        "\"ambient_c\": 1500",
        &["27:117: $.driver_places[0].ambient_c: 1500 is outside its limits; accepted: a number from -90 to 500 °C"],
    ),
    (
        "\"ambient_c\": 35",
        "\"ambient_c\": \"35 °C\"",
        &["27:117: $.driver_places[0].ambient_c: \"35 °C\" is of another type; accepted: a number from -90 to 500 °C"],
    ),
    (
        "\"kelvin\": 3000",
        "\"kelvin\": 3000.5",
        &[
            "40:85: $.brief.rails[0].light.kelvin: 3000.5 is no whole number; accepted: a whole number from 1000 to 20000",
        ],
    ),
    (
        "\"kelvin\": 3000",
        "\"kelvin\": 100",
        &[
            "40:85: $.brief.rails[0].light.kelvin: 100 is outside its limits; accepted: a whole number from 1000 to 20000",
        ],
    ),
    (
        "\"kelvin\": 3000",
        "\"kelvin\": 1e400",
        &[
            "40:85: $.brief.rails[0].light.kelvin: 1e400 is no finite number; accepted: a whole number from 1000 to 20000",
        ],
    ),
    (
        "\"angle_deg\": 90",
        "\"angle_deg\": 3600",
        &["15:51: $.rails[0].pieces[1].angle_deg: 3600 is outside its limits; accepted: a number from -360 to 360 °"],
    ),
    (
        "\"spacing_mm\": 300",
        "\"spacing_mm\": 0",
        &[
            "41:53: $.brief.rails[0].target.spacing_mm: 0 is outside its limits; accepted: a length above 0 mm, up to 100 km, as a number in mm or a text such as \"2.45 m\"",
        ],
    ),
    (
        "\"length_mm\": 2500",
        "\"length_mm\": {\"value_mm\": 2500, \"instrument\": \"eye\"}",
        &[
            "32:53: $.routes[0].length_mm.instrument: \"eye\" is none of the kinds that can stand here; accepted: tape, laser, calliper, thickness_gauge, wheel, drawing, estimate, or a table with kind other and its details",
        ],
    ),
    (
        "\"length_mm\": 2500",
        "\"length_mm\": {\"value\": 2500}",
        &[
            "32:20: $.routes[0].length_mm.value_mm: is missing; accepted: a length from 0 mm to 100 km, as a number in mm or a text such as \"2.45 m\"",
            "32:21: $.routes[0].length_mm.value: is an unknown field; accepted: instrument, tolerance_mm, value_mm",
        ],
    ),
    (
        "\"length_mm\": 2500",
        "\"length_mm\": {\"value_mm\": 2500, \"tolerance_mm\": -1}",
        &[
            "32:55: $.routes[0].length_mm.tolerance_mm: -1 is outside its limits; accepted: a length from 0 mm to 100 km, as a number in mm or a text such as \"2.45 m\"",
        ],
    ),
    (
        "\"length_mm\": 2500",
        "\"length_mm\": {\"value_mm\": 2500, \"instrument\": {\"kind\": \"tape\", \"class\": \"IV\"}}",
        &[
            "32:79: $.routes[0].length_mm.instrument.class: \"IV\" is none of the words that can stand here; accepted: I, II, III",
        ],
    ),
    (
        "\"id\": \"yard\", ",
        "",
        &["3:11: $.site.id: is missing; accepted: a text of 1 to 64 characters without control characters"],
    ),
    (", \"walked_side\": \"right\"", "", &["11:5: $.rails[0].walked_side: is missing; accepted: left, right, both"]),
    (
        "\"outside_diameter_mm\": 48.3, ",
        "",
        &[
            "18:15: $.rails[0].tube.outside_diameter_mm: is missing; accepted: a length from 0 mm to 100 km, as a number in mm or a text such as \"2.45 m\", or a table with value_mm",
        ],
    ),
    (
        "\"kind\": \"post\", ",
        "",
        &[
            "20:9: $.rails[0].features[0].kind: is missing; accepted: post, joint, movement_joint, infill_clamp, existing_hole, low_point, damage, way_in",
        ],
    ),
    (
        ", \"meets\": \"welded_below\"",
        "",
        &[
            "20:9: $.rails[0].features[0].meets: is missing; accepted: welded_below, saddle, side_bracket, through, or a table with kind other and its details",
        ],
    ),
    (
        "\"target\": {\"kind\": \"spacing\", \"spacing_mm\": 300}",
        "\"target\": {\"kind\": \"spacing\"}",
        &[
            "41:19: $.brief.rails[0].target.spacing_mm: is missing; accepted: a length above 0 mm, up to 100 km, as a number in mm or a text such as \"2.45 m\"",
        ],
    ),
    (
        "\"width_mm\": 40,",
        "\"width_mm\": 40, \"widht_mm\": 40,",
        &[
            "20:74: $.rails[0].features[0].widht_mm: is an unknown field; accepted: bore, chainage_mm, id, into_post, keep_clear_mm, kind, label, meets, note, width_mm",
        ],
    ),
    (
        "\"invented\": true",
        "\"invented\": true, \"weather\": \"fine\"",
        &[
            "4:65: $.site.weather: is an unknown field; accepted: address, exposure, id, invented, label, note, origin, surveyed_on, surveyor",
        ],
    ),
    (
        "\"kind\": \"duct\"",
        "\"kind\": \"pipe\"",
        &[
            "32:34: $.routes[0].kind: \"pipe\" is none of the words that can stand here; accepted: surface, duct, inside_post, under_deck",
        ],
    ),
    (
        "\"bore\": \"assumed\"",
        "\"bore\": \"proved\"",
        &[
            "20:107: $.rails[0].features[0].bore: \"proved\" needs its details beside its kind; accepted: unknown, assumed, or a table with kind proved or blocked and its details",
        ],
    ),
    (
        "\"bore\": \"assumed\"",
        "\"bore\": \"open\"",
        &[
            "20:107: $.rails[0].features[0].bore: \"open\" is none of the kinds that can stand here; accepted: unknown, assumed, or a table with kind proved or blocked and its details",
        ],
    ),
    (
        "\"bore\": \"assumed\"",
        "\"bore\": {\"kind\": \"open\"}",
        &[
            "20:116: $.rails[0].features[0].bore.kind: \"open\" is none of the kinds that can stand here; accepted: unknown, assumed, proved, blocked",
        ],
    ),
    (
        "\"kind\": \"way_in\", \"opening_mm\": 14",
        "\"kind\": \"hatch\", \"opening_mm\": 14",
        &[
            "21:49: $.rails[0].features[1].kind: \"hatch\" is none of the kinds that can stand here; accepted: post, joint, movement_joint, infill_clamp, existing_hole, low_point, damage, way_in",
        ],
    ),
    (
        "\"kind\": \"bend\"",
        "\"kind\": \"curve\"",
        &[
            "15:18: $.rails[0].pieces[1].kind: \"curve\" is none of the kinds that can stand here; accepted: straight, bend",
        ],
    ),
    (
        "\"profile\": \"round\"",
        "\"profile\": {\"kind\": \"round_slotted\"}",
        &[
            "18:27: $.rails[0].tube.profile.slot_width_mm: is missing; accepted: a length above 0 mm, up to 100 km, as a number in mm or a text such as \"2.45 m\"",
        ],
    ),
    (
        "\"material\": \"stainless_steel\"",
        "\"material\": \"gold\"",
        &[
            "18:77: $.rails[0].tube.material: \"gold\" is none of the kinds that can stand here; accepted: stainless_steel, carbon_steel, galvanised_steel, aluminium, brass, or a table with kind other and its details",
        ],
    ),
    (
        "\"lamps\": \"points\"",
        "\"lamps\": \"Points\"",
        &[
            "40:32: $.brief.rails[0].lamps: \"Points\" is none of the words that can stand here; accepted: points, modules, modules_else_points",
        ],
    ),
    (
        "\"surveyed_on\": \"2026-05-04\"",
        "\"surveyed_on\": \"2026-02-30\"",
        &["4:80: $.site.surveyed_on: \"2026-02-30\" has another form; accepted: a day such as \"2026-05-04\""],
    ),
    (
        "\"surveyed_on\": \"2026-05-04\"",
        "\"surveyed_on\": \"4.5.2026\"",
        &["4:80: $.site.surveyed_on: \"4.5.2026\" has another form; accepted: a day such as \"2026-05-04\""],
    ),
    (
        "{\"id\": \"m1\", \"label\"",
        "{\"id\": \"\", \"label\"",
        &[
            "25:27: $.mains_points[0].id: \"\" is too short; accepted: a text of 1 to 64 characters without control characters",
        ],
    ),
    (
        "{\"id\": \"m1\", \"label\"",
        "{\"id\": \"m\\u0007\", \"label\"",
        &[
            "25:27: $.mains_points[0].id: \"m\\u{7}\" has another form; accepted: a text of 1 to 64 characters without control characters",
        ],
    ),
    (
        "\"label\": \"Ramp left\"",
        "\"label\": \"\"",
        &["12:28: $.rails[0].label: \"\" is too short; accepted: a text of 1 to 100 characters"],
    ),
    (
        "\"file\": \"ramp.jpg\", ",
        "\"file\": \"ramp.jpg\", \"taken\": \"yesterday\", ",
        &[
            "35:56: $.photos[0].taken: \"yesterday\" has another form; accepted: a moment such as \"2026-05-04T10:20:30\", with an offset where one is known",
        ],
    ),
    (
        "\"label\": \"Niche\"",
        "\"label\": \"Niche\", \"label\": \"Nook\"",
        &["27:36: $.driver_places[0].label: is given twice, first in line 27; accepted: each field name once"],
    ),
    (
        "\"id\": \"s2\"",
        "\"id\": \"s1\"",
        &[
            "16:36: $.rails[0].pieces[2].id: \"s1\" is given twice, first in line 14; accepted: each id once among the pieces and features of a rail",
        ],
    ),
    (
        "{\"id\": \"w1\"",
        "{\"id\": \"b1\"",
        &[
            "21:16: $.rails[0].features[1].id: \"b1\" is given twice, first in line 15; accepted: each id once among the pieces and features of a rail",
            "31:115: $.routes[0].to.feature: \"w1\" refers to no way in of the rail; accepted: b1",
        ],
    ),
    (
        "\"zones\": [{\"id\": \"z1\", \"label\": \"Ramp\", \"control\": {\"kind\": \"dusk\"}}]",
        "\"zones\": [{\"id\": \"z1\", \"label\": \"Ramp\", \"control\": {\"kind\": \"dusk\"}}, {\"id\": \"z1\", \"label\": \"Deck\", \"control\": {\"kind\": \"dusk\"}}]",
        &["37:82: $.brief.zones[1].id: \"z1\" is given twice, first in line 37; accepted: each id once"],
    ),
    (
        "\"mains_points\": [{\"id\": \"m1\"",
        "\"mains_points\": [{\"id\": \"m1\", \"label\": \"Board\", \"kind\": \"board_way\", \"place\": \"inside\"}, {\"id\": \"m1\"",
        &["25:99: $.mains_points[1].id: \"m1\" is given twice, first in line 25; accepted: each id once"],
    ),
    (
        "\"rail\": \"r1\", \"lamps\"",
        "\"rail\": \"r9\", \"lamps\"",
        &["40:17: $.brief.rails[0].rail: \"r9\" refers to no rail of this file; accepted: \"r1\""],
    ),
    (
        "\"zone\": \"z1\"",
        "\"zone\": \"z9\"",
        &["41:67: $.brief.rails[0].zone: \"z9\" refers to no zone of this file; accepted: \"z1\""],
    ),
    (
        "\"kind\": \"driver_place\", \"id\": \"d1\"",
        "\"kind\": \"driver_place\", \"id\": \"d9\"",
        &["31:58: $.routes[0].from.id: \"d9\" refers to no driver place of this file; accepted: \"d1\""],
    ),
    (
        "\"feature\": \"w1\"",
        "\"feature\": \"w9\"",
        &["31:115: $.routes[0].to.feature: \"w9\" refers to no way in of the rail; accepted: w1"],
    ),
    (
        "\"feature\": \"w1\"",
        "\"feature\": \"p1\"",
        &["31:115: $.routes[0].to.feature: \"p1\" is a post, not a way in; accepted: w1"],
    ),
    (
        "\"opening_mm\": 14, \"post\": \"p1\"",
        "\"opening_mm\": 14, \"post\": \"w1\"",
        &["21:85: $.rails[0].features[1].post: \"w1\" is a way in, not a post; accepted: p1"],
    ),
    (
        "\"opening_mm\": 14, \"post\": \"p1\"",
        "\"opening_mm\": 14, \"post\": \"p2\"",
        &["21:85: $.rails[0].features[1].post: \"p2\" refers to no post of the rail; accepted: p1"],
    ),
    (
        "\"shows\": {\"kind\": \"rail\", \"rail\": \"r1\"}",
        "\"shows\": {\"kind\": \"mains_point\", \"id\": \"m2\"}",
        &["35:86: $.photos[0].shows.id: \"m2\" refers to no mains point of this file; accepted: \"m1\""],
    ),
    (
        "\"place\": \"inside\"",
        "\"place\": \"inside\", \"photo\": \"f2\"",
        &["25:104: $.mains_points[0].photo: \"f2\" refers to no photo of this file; accepted: \"f1\""],
    ),
    (
        "\"zone\": \"z1\"",
        "\"zone\": \"z1\", \"match_rail\": \"r1\"",
        &["41:87: $.brief.rails[0].match_rail: \"r1\" is the rail itself; accepted: another rail"],
    ),
    (
        "\"zone\": \"z1\"",
        "\"zone\": \"z1\", \"locks\": {\"holes_mm\": [500, \"x\"], \"drivers\": [{\"place\": \"d2\"}]}",
        &[
            "41:101: $.brief.rails[0].locks.holes_mm[1]: \"x\" is no length; accepted: a length from 0 mm to 100 km, as a number in mm or a text such as \"2.45 m\"",
            "41:129: $.brief.rails[0].locks.drivers[0].place: \"d2\" refers to no driver place of this file; accepted: \"d1\"",
        ],
    ),
    (
        "\"least_temperature_c\": -10",
        "\"least_temperature_c\": 50",
        &[
            "7:60: $.site.exposure.greatest_temperature_c: 35 is less than least_temperature_c, 50; accepted: 50 or more",
        ],
    ),
    (
        "\"zone\": \"z1\"",
        "\"zone\": \"z1\", \"end_margin_least_mm\": 400",
        &[
            "39:7: $.brief.rails[0].end_margin_greatest_mm: 300 is less than end_margin_least_mm, 400; accepted: 400 or more",
        ],
    ),
    (
        "\"width_mm\": 40, \"meets\": \"welded_below\"",
        "\"width_mm\": -1, \"meets\": \"glued\", \"hight\": 3",
        &[
            "20:70: $.rails[0].features[0].width_mm: -1 is outside its limits; accepted: a length above 0 mm, up to 100 km, as a number in mm or a text such as \"2.45 m\"",
            "20:83: $.rails[0].features[0].meets: \"glued\" is none of the kinds that can stand here; accepted: welded_below, saddle, side_bracket, through, or a table with kind other and its details",
            "20:92: $.rails[0].features[0].hight: is an unknown field; accepted: bore, chainage_mm, id, into_post, keep_clear_mm, kind, label, meets, note, width_mm",
        ],
    ),
];

#[test]
fn the_good_survey_is_read() {
    let survey = desk::read_survey(SURVEY.as_bytes(), "s.json").unwrap_or_else(|faults| panic!("{faults}"));
    assert_eq!(survey.rails[0].length(), survey.rails[0].placed_pieces()[2].end);
}

#[test]
fn every_fault_is_one_line_with_place_value_and_what_is_accepted() {
    let mut differing = Vec::new();
    for (from, to, lines) in CASES {
        let text = spoilt(SURVEY, from, to);
        let got = match desk::read_survey(text.as_bytes(), "s.json") {
            Ok(_) => vec!["read without a fault".to_owned()],
            Err(faults) => faults.lines(),
        };
        let wanted: Vec<String> = lines.iter().map(|line| format!("s.json:{line}")).collect();
        if got != wanted {
            differing.push(format!("{from} -> {to}\n  got    {got:#?}\n  wanted {wanted:#?}"));
        }
    }
    assert!(differing.is_empty(), "{}", differing.join("\n"));
}
