//! What people write, and what is refused.

use super::*;
use crate::{Angle, Force, Length, Mass, Pressure};

fn mass(t: &str) -> Mass {
    read_one(t).unwrap_or_else(|e| panic!("{t}: {e}"))
}
fn force(t: &str) -> Force {
    read_one(t).unwrap_or_else(|e| panic!("{t}: {e}"))
}
fn length(t: &str) -> Length {
    read_one(t).unwrap_or_else(|e| panic!("{t}: {e}"))
}

#[test]
fn closed_form_one_value_is_exactly_its_constructor() {
    assert_eq!(force("9,500 lb"), Force::from_lbf(9500.0));
    assert_eq!(force("4.2 t"), Force::from_tonnef(4.2));
    assert_eq!(force("20 kN"), Force::from_kn(20.0));
    assert_eq!(force("20KN"), Force::from_kn(20.0));
    assert_eq!(force("30 000 N"), Force::from_n(30_000.0));
    assert_eq!(force("30\u{202f}000 N"), Force::from_n(30_000.0));
    assert_eq!(force("4400 daN"), Force::from_kn(44.0));
    assert_eq!(mass("2 short tons"), Mass::from_short_ton(2.0));
    assert_eq!(mass("2 Short  Tons"), Mass::from_short_ton(2.0));
    assert_eq!(mass("1 long ton"), Mass::from_long_ton(1.0));
    assert_eq!(mass("5,000 LBS."), Mass::from_lb(5000.0));
    assert_eq!(length("3 in"), Length::from_inch(3.0));
    assert_eq!(length("100 ft"), Length::from_foot(100.0));
    assert_eq!(length("3/4 in"), Length::from_inch(0.75));
    assert_eq!(length("1 3/4\""), Length::from_inch(1.75));
    assert_eq!(length("5 ft 6 in"), Length::from_inch(66.0));
    assert_eq!(length("1e-3 m"), Length::from_m(1e-3));
    assert_eq!(length("\u{2212}0.9 m"), Length::from_m(-0.9));
    assert_eq!(read_one::<Angle>("7 deg"), Ok(Angle::from_deg(7.0)));
    assert_eq!(read_one::<Angle>("7\u{b0}"), Ok(Angle::from_deg(7.0)));
    assert_eq!(read_one::<f64>("12 %"), Ok(12.0 * 0.01));
    assert_eq!(read_one::<f64>("0.35"), Ok(0.35));
    assert_eq!(read_one::<Pressure>("20 psi"), Ok(Pressure::from_psi(20.0)));
}

#[test]
fn closed_form_ranges() {
    let r = read_range::<Mass>("2.2 t .. 2.6 t").unwrap();
    assert_eq!((r.low(), r.high()), (Mass::from_tonne(2.2), Mass::from_tonne(2.6)));
    assert_eq!(read_range::<Mass>("2.2..2.6 t").unwrap(), r);
    assert_eq!(read_range::<Mass>("2.2 to 2.6 t").unwrap(), r);
    let r = read_range::<Mass>("2 t .. 2.4 t .. 3 t").unwrap();
    assert_eq!(r.likely(), Mass::from_tonne(2.4));
    let r = read_range::<Mass>("about 2.4 t").unwrap();
    assert!((r.low().as_tonne() - 2.16).abs() < 1e-12 && (r.high().as_tonne() - 2.64).abs() < 1e-12);
    let r = read_range::<Mass>("2.4 t \u{b1} 5 %").unwrap();
    assert!((r.low().as_tonne() - 2.28).abs() < 1e-12);
    let r = read_range::<Mass>("2.4 +/- 0.2 t").unwrap();
    assert!((r.high().as_tonne() - 2.6).abs() < 1e-12);
    let r = read_range::<f64>("15 % .. 25 % .. 35 %").unwrap();
    assert!((r.likely() - 0.25).abs() < 1e-15);
    assert!(read_range::<Force>("20 kN").unwrap().is_exact());
    assert!(read_range::<Length>("about -2 m").unwrap().low() < Length::from_m(-2.0));
}

fn refused<Q: Written>(text: &str, says: &str) -> TextError {
    let e = match read_range::<Q>(text) {
        Ok(_) => panic!("{text} was taken"),
        Err(e) => e,
    };
    let all = e.to_string();
    assert!(all.contains(says), "{text}: {all}");
    assert!(e.at <= text.len() && !e.example.is_empty() && !e.expected.is_empty(), "{text}: {e:?}");
    e
}

#[test]
fn regress_what_could_mean_two_things_is_refused() {
    for t in ["2 ton", "2 tons", "4.75 T", "4.75T", "2 TONS", "2 tonf"] {
        let e = refused::<Force>(t, "short tons");
        assert!(e.message.contains("tonnes") && e.message.contains("long tons"), "{}", e.message);
    }
    refused::<Mass>("1,5 t", "1.5");
    refused::<Mass>("0,500 t", "thousands");
    refused::<Mass>("12,34,567 kg", "comma");
    refused::<Mass>("1234,567 kg", "proper groups");
    refused::<Mass>("1.500,5 kg", "two ways");
    refused::<Mass>("1.500.000 kg", "two ways");
    refused::<Mass>("4 75 t", "two numbers");
    refused::<Mass>("2.2-2.6 t", "two points");
    refused::<Mass>("2400", "no unit");
    refused::<Mass>("20 kN", "unit of force");
    refused::<Force>("3 m", "unit of length");
    refused::<Angle>("12 %", "grade");
    refused::<Mass>("NaN t", "not a number");
    refused::<Mass>("inf kg", "not a number");
    refused::<Mass>("1e999 kg", "too large");
    refused::<Mass>("1e308 t", "too large");
    refused::<Mass>("3 t .. 2 t", "out of order");
    refused::<Mass>("1 t .. 2 t .. 3 t .. 4 t", "two or three");
    refused::<Mass>("", "nothing");
    refused::<Mass>(".5 t", "0.5");
    refused::<Mass>("5. t", "nothing after");
    refused::<Mass>("about 2 t .. 3 t", "twice");
    refused::<Mass>("2 t \u{b1} -1 t", "negative");
    refused::<Mass>("3 stone", "not a unit");
    refused::<Length>("1/0 m", "fraction");
    refused::<f64>("0.3 .. 35 %", "two ways");
    refused::<f64>("15 .. 35 %", "two ways");
    assert!(read_one::<Mass>("2 t .. 3 t").is_err());
    assert!(read_one::<Mass>(&"9".repeat(500)).is_err());
}

#[test]
fn regress_the_position_is_inside_the_text() {
    let e = refused::<Mass>("2.2 t .. 2.6 ton", "ton");
    assert_eq!(&"2.2 t .. 2.6 ton"[e.at..e.at + e.len], "ton");
    let e = refused::<Mass>("2 t .. x t", "not a number");
    assert_eq!(e.at, 7);
}

#[test]
fn regress_no_text_makes_it_panic() {
    // A small fixed generator: every text of up to five pieces out of a nasty alphabet.
    let alphabet = [
        "1", ",", ".", " ", "\u{a0}", "-", "\u{2212}", "t", "T", "ft", "/", "..", "about", "\u{b1}", "e9", "\u{b0}",
        "é", "%",
    ];
    let mut tried = 0;
    for a in alphabet {
        for b in alphabet {
            for c in alphabet {
                for d in alphabet {
                    let t = format!("{a}{b}{c}{d}");
                    let all = [
                        read_range::<Mass>(&t).err(),
                        read_range::<Length>(&t).err(),
                        read_range::<f64>(&t).err(),
                        read_one::<Angle>(&t).err(),
                    ];
                    for e in all.into_iter().flatten() {
                        assert!(e.at <= t.len(), "{t:?} {e:?}");
                    }
                    tried += 1;
                }
            }
        }
    }
    assert_eq!(tried, 18 * 18 * 18 * 18);
}

#[test]
fn regress_times_up_to_years() {
    assert_eq!(read_one::<crate::Time>("2 years").unwrap(), crate::Time::from_year(2.0));
    assert_eq!(read_one::<crate::Time>("6 months").unwrap(), crate::Time::from_year(0.5));
    assert_eq!(read_range::<crate::Time>("2 .. 4 years").unwrap().high().as_year(), 4.0);
    assert_eq!(read_one::<crate::Time>("365.25 days").unwrap(), crate::Time::from_year(1.0));
    assert!(read_one::<crate::Time>("2 m").unwrap_err().message.contains("length"));
}
