//! Texts with a form of their own: ids, days, moments, currencies, ingress codes.

use catalogue::Ingress;

/// Whether a text can be an id or a part reference.
#[must_use]
pub fn is_id(raw: &str) -> bool {
    survey::Id::new(raw).is_some()
}

/// Whether a text is a SHA-256 in hexadecimal digits, lower case.
#[must_use]
pub fn is_sha256(raw: &str) -> bool {
    raw.len() == 64 && raw.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'))
}

/// Whether a text is a day of the Gregorian calendar, `YYYY-MM-DD`.
#[must_use]
pub fn is_day(raw: &str) -> bool {
    let bytes = raw.as_bytes();
    let shaped = bytes.len() == 10
        && bytes.iter().enumerate().all(|(i, b)| if i == 4 || i == 7 { *b == b'-' } else { b.is_ascii_digit() });
    if !shaped {
        return false;
    }
    let number = |from: usize, to: usize| raw[from..to].parse::<u32>().unwrap_or(0);
    let (year, month, day) = (number(0, 4), number(5, 7), number(8, 10));
    let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    let days = match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        _ => 0,
    };
    (1..=days).contains(&day)
}

/// Whether a text is a day and a time, `YYYY-MM-DDThh:mm:ss`, with a fraction and an offset or without.
#[must_use]
pub fn is_moment(raw: &str) -> bool {
    let Some((day, time)) = raw.split_once('T') else { return false };
    let (clock, offset) = match time.find(['Z', '+', '-']) {
        Some(at) => time.split_at(at),
        None => (time, ""),
    };
    let (whole, fraction) = clock.split_once('.').unwrap_or((clock, "0"));
    let fraction_fits = (1..=9).contains(&fraction.len()) && fraction.bytes().all(|b| b.is_ascii_digit());
    is_day(day) && parts(whole, &[23, 59, 60]) && fraction_fits && is_offset(offset)
}

fn is_offset(raw: &str) -> bool {
    raw.is_empty() || raw == "Z" || raw.strip_prefix(['+', '-']).is_some_and(|rest| parts(rest, &[14, 59]))
}

/// Two-digit numbers between colons, none above its greatest.
fn parts(raw: &str, greatest: &[u8]) -> bool {
    let fits = |(part, most): (&str, &u8)| {
        part.len() == 2 && part.bytes().all(|b| b.is_ascii_digit()) && part.parse::<u8>().is_ok_and(|n| n <= *most)
    };
    raw.split(':').count() == greatest.len() && raw.split(':').zip(greatest).all(fits)
}

/// Codes of the currencies in use, in rising order.
///
/// # Source
/// ISO 4217, list one (from memory).
const CURRENCIES: &str = "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BGN BHD BIF BMD BND BOB BRL BSD BTN BWP BYN \
    BZD CAD CDF CHF CLP CNY COP CRC CUP CVE CZK DJF DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GNF GTQ \
    GYD HKD HNL HTG HUF IDR ILS INR IQD IRR ISK JMD JOD JPY KES KGS KHR KMF KPW KRW KWD KYD KZT LAK LBP LKR LRD LSL \
    LYD MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD OMR PAB PEN PGK PHP PKR PLN \
    PYG QAR RON RSD RUB RWF SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TND TOP TRY TTD \
    TWD TZS UAH UGX USD UYU UZS VES VND VUV WST XAF XCD XOF XPF YER ZAR ZMW";

/// Whether a text is the code of a currency in use.
#[must_use]
pub fn is_currency(raw: &str) -> bool {
    raw.len() == 3 && CURRENCIES.split(' ').any(|code| code == raw)
}

/// Reads an ingress code: `IP66`, `IPX4`, or several declared tests as `IP66/IP68` or `IP66/68`.
#[must_use]
pub fn ingress(raw: &str) -> Option<Ingress> {
    let mut first: Option<u8> = None;
    let mut second = Vec::new();
    for (i, part) in raw.split('/').enumerate() {
        let digits = match part.strip_prefix("IP") {
            Some(digits) => digits,
            None if i > 0 => part,
            None => return None,
        };
        let numerals: Vec<char> = digits.chars().collect();
        let [solids, water] = numerals.as_slice() else { return None };
        let solids = numeral(*solids, 6)?;
        // One enclosure keeps out one size of solids; two claims that differ are a slip of the pen.
        if i > 0 && solids != first {
            return None;
        }
        first = solids;
        second.extend(numeral(*water, 9)?);
    }
    second.sort_unstable();
    second.dedup();
    Some(Ingress { first, second })
}

/// One numeral up to a greatest, `Some(None)` for X, `None` for anything else.
#[expect(clippy::option_option, reason = "a numeral, the letter X, and neither of them are three answers")]
fn numeral(raw: char, greatest: u8) -> Option<Option<u8>> {
    match raw {
        'X' => Some(None),
        _ => raw.to_digit(10).map(|n| n as u8).filter(|n| *n <= greatest).map(Some),
    }
}

/// Writes an ingress code: `IP66/IP68`.
#[must_use]
pub fn ingress_text(code: &Ingress) -> String {
    let first = code.first.map_or("X".to_owned(), |n| n.to_string());
    if code.second.is_empty() {
        return format!("IP{first}X");
    }
    code.second.iter().map(|n| format!("IP{first}{n}")).collect::<Vec<_>>().join("/")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_that_exist_are_days() {
        for (raw, day) in [
            ("2024-02-29", true),
            ("2023-02-29", false),
            ("1900-02-29", false),
            ("2026-13-01", false),
            ("2026-00-10", false),
            ("2026-1-10", false),
            ("2026-04-31", false),
            ("２０２６-01-01", false),
        ] {
            assert_eq!(is_day(raw), day, "{raw}");
        }
    }

    #[test]
    fn moments_have_a_time_and_may_have_an_offset() {
        for (raw, fits) in [
            ("2026-05-04T10:20:30", true),
            ("2026-05-04T10:20:30Z", true),
            ("2026-05-04T10:20:30.25+02:00", true),
            ("2026-05-04 10:20:30", false),
            ("2026-05-04T25:20:30", false),
            ("2026-05-04T10:20", false),
            ("2026-05-04T10:20:30+0200", false),
        ] {
            assert_eq!(is_moment(raw), fits, "{raw}");
        }
    }

    #[test]
    fn an_ingress_code_keeps_every_declared_test() {
        // IEC 60529: the second numeral of a code with two declared tests is written after a stroke.
        let both = ingress("IP66/68").unwrap();
        assert_eq!((both.first, both.second.as_slice()), (Some(6), [6, 8].as_slice()));
        assert_eq!(ingress("IP66/IP68").unwrap(), both);
        assert_eq!(ingress_text(&both), "IP66/IP68");
        assert_eq!(ingress_text(&ingress("IPX4").unwrap()), "IPX4");
        assert_eq!(ingress_text(&ingress("IP2X").unwrap()), "IP2X");
        for bad in ["", "66", "IP", "IP7", "IP75", "IP666", "IP66/57", "ip66", "IP6K", "IP66/", "IP66 "] {
            assert!(ingress(bad).is_none(), "{bad}");
        }
    }
}
