use super::{Unit, join_parts, listed, spellings};

#[track_caller]
fn case(written: &str, symbol: &str) {
    let unit = Unit::parse(written).unwrap_or_else(|error| panic!("{written}: {error}"));
    assert_eq!(unit.symbol(), symbol, "for {written:?}");
}

#[track_caller]
fn refused(written: &str, message: &str, remedy: &str) {
    let error = Unit::parse(written).expect_err(written);
    assert_eq!(error.to_string(), message, "for {written:?}");
    assert!(error.remedy().starts_with(remedy), "{written:?}: {}", error.remedy());
}

#[test]
fn accepted_spellings() {
    for written in ["N·m", "Nm", "N.m", "N⋅m", "N m", "N*m", "N\u{a0}m"] {
        case(written, "N·m");
    }
    for written in ["lbf·ft", "lbf-ft", "ft-lb", "lb-ft", "ft·lb", "ft-lbf", "lbf.ft", "ft lb", "ft-lbs"] {
        case(written, "lbf·ft");
    }
    for written in ["lbf·in", "in-lb", "lb-in", "lbf.in", "in·lbf"] {
        case(written, "lbf·in");
    }
    case("kgf·m", "kgf·m");
    case("kgf.m", "kgf·m");
    case("l", "L");
    case("ml", "mL");
    case("US  gal", "US gal");
    case("US fl. oz", "US fl oz");
    case("imp fl oz", "imp fl oz");
    case("° C", "°C");
    case("º", "°");
    case("deg", "°");
    case("ohm", "Ω");
    case("\u{2126}", "Ω");
    case("day", "days");
    case("year", "years");
    case("L / min", "L/min");
    case("ml/min", "mL/min");
    case("US gal/h", "US gal/h");
    case("min.", "min");
    case("%", "%");
}

#[test]
fn a_bare_gallon_is_asked_about() {
    refused("gal", "`gal` can mean more than one unit", "say which: `US gal` or `imp gal`");
    refused("fl oz", "`fl oz` can mean more than one unit", "say which: `US fl oz` or `imp fl oz`");
    refused("qt", "`qt` can mean more than one unit", "say which: `US qt` or `imp qt`");
    refused("pt", "`pt` can mean more than one unit", "say which: `US pt` or `imp pt`");
    refused("gal/h", "`gal/h` can mean more than one unit", "say which: `US gal/h` or `imp gal/h`");
}

#[test]
fn near_misses_name_the_unit() {
    refused("liter", "`liter` is written `L` here", "write `L`");
    refused("cm3", "`cm3` is written `mL` here", "write `mL`");
    refused("cm³", "`cm³` is written `mL` here", "write `mL`");
    refused("dm3", "`dm3` is written `L` here", "write `L`");
    refused("hr", "`hr` is written `h` here", "write `h`");
    refused("NM", "`NM` is written `nmi` here", "write `nmi`");
    refused("nm", "`nm` can mean more than one unit", "say which: `N·m` or `nmi`");
    refused("L/hr", "`L/hr` is written `L/h` here", "write `L/h`");
    refused("ML", "unknown unit `ML`", "if `mL` is meant, write that");
    refused("kpa", "unknown unit `kpa`", "if `kPa` is meant, write that");
    refused("monhts", "unknown unit `monhts`", "if `months` is meant, write that");
    refused("MPa", "unknown unit `MPa`", "use a unit of the list: N·m");
    refused("mm socket", "`socket` cannot stand after a unit", "write `mm`");
    refused("N·m (oiled)", "`(oiled)` cannot stand after a unit", "write `N·m`");
    refused("furlong", "unknown unit `furlong`", "use a unit of the list: N·m, lbf·ft");
    refused("", "the unit is missing", "write the number");
}

#[test]
fn a_spelling_of_the_list_is_found_without_joining_its_parts() {
    for unit in Unit::ALL {
        for spelling in spellings(*unit) {
            let key = join_parts(spelling);
            assert_eq!((join_parts(&key).as_str(), listed(&key)), (key.as_str(), Some(*unit)), "{spelling}");
        }
    }
}
