//! Will it stick: the table is whole, and each well-known answer is the known one.

use trade::{FinishClass, FoundSurface, Verdict, compat};

#[test]
fn table_has_every_pair_once() {
    assert_eq!(compat::table_size(), (25, 21));
    assert_eq!(compat::table_len(), 525);
    for found in FoundSurface::EVERY {
        for new in FinishClass::CHOOSABLE {
            let judged = compat::verdict(*found, *new);
            assert_eq!((judged.found, judged.new), (*found, *new));
            assert!(!judged.preparation.is_empty() && !judged.reason.is_empty());
            assert!(
                !judged.reason.contains("nobody has identified"),
                "{found} under {new} is missing"
            );
        }
    }
}

#[test]
fn unknown_cannot_be_chosen() {
    assert_eq!(
        compat::verdict(FoundSurface::BareWood, FinishClass::Unknown).verdict,
        Verdict::Never
    );
}

#[test]
fn answers_that_every_bench_knows() {
    use FinishClass as New;
    use FoundSurface as Found;
    let known = [
        // MIL-HDBK-1110 2.4.4: sand, and an oil primer where hold is in doubt.
        (
            Found::OilAlkydEnamelCured,
            New::WaterborneAcrylicEnamel,
            Verdict::OkOverPrimer,
        ),
        // Makers' sheets of dewaxed shellac: waxed shellac never under polyurethane.
        (Found::ShellacWaxedFilm, New::OilBasedPolyurethane, Verdict::Never),
        // Makers' sheets of conversion varnish: no contact with iron or aluminium; five mil in all.
        (Found::BareMetal, New::ConversionVarnish, Verdict::Never),
        (
            Found::ConversionVarnishFilm,
            New::ConversionVarnish,
            Verdict::OkWithinTotalThickness,
        ),
        // Common practice.
        (
            Found::PasteWaxFilm,
            New::WaterborneAcrylicEnamel,
            Verdict::RemoveContaminantFirst,
        ),
        (
            Found::OilVarnishPolyCured,
            New::NitrocelluloseLacquer,
            Verdict::OkAfterBarrier,
        ),
        (Found::BareWood, New::WaterborneFlatClear, Verdict::Ok),
        (
            Found::OilStainUncured,
            New::WaterbornePolyurethane,
            Verdict::OkAfterBarrier,
        ),
    ];
    for (found, new, verdict) in known {
        assert_eq!(compat::verdict(found, new).verdict, verdict, "{new} over {found}");
    }
}

#[test]
fn scuffing_is_asked_for_exactly_where_the_preparation_says_so() {
    for found in FoundSurface::EVERY {
        for new in FinishClass::CHOOSABLE {
            let judged = compat::verdict(*found, *new);
            assert_eq!(
                judged.scuff.is_some(),
                judged.preparation.contains("scuff"),
                "{new} over {found}"
            );
            if let Some((coarse, fine)) = judged.scuff {
                assert!(coarse <= fine);
            }
        }
    }
}

#[test]
fn rules_are_found_by_number_and_by_name() {
    let rule = compat::rule("C05").expect("in the table");
    assert_eq!(compat::rule("waterborne-over-smooth-alkyd"), Some(rule));
    assert!(compat::rule("C29").is_none());
}

#[test]
fn narrower_reasons_name_rules_that_exist() {
    let judged = compat::verdict(FoundSurface::ShellacWaxedFilm, FinishClass::OilBasedPolyurethane);
    assert_eq!(judged.rule.map(|rule| rule.id.as_str()), Some("C10"));
    let judged = compat::verdict(FoundSurface::OilVarnishPolyCured, FinishClass::NitrocelluloseLacquer);
    assert_eq!(judged.rule.map(|rule| rule.id.as_str()), Some("C18"));
}

#[test]
fn a_cured_coat_shows_a_surface_that_the_table_knows() {
    assert_eq!(
        FinishClass::OilBasedPolyurethane.surface_when_dry(),
        FoundSurface::OilVarnishPolyUncured
    );
    assert_eq!(
        FinishClass::OilBasedPolyurethane.surface_when_cured(),
        FoundSurface::OilVarnishPolyCured
    );
    assert_eq!(
        FinishClass::Unknown.surface_when_cured(),
        FoundSurface::UnknownOldFinish
    );
}

#[test]
fn stain_is_not_scuffed_before_its_barrier() {
    let judged = compat::verdict(FoundSurface::OilStainUncured, FinishClass::WaterbornePolyurethane);
    assert!(
        judged.preparation.starts_with("one or two thin coats"),
        "{}",
        judged.preparation
    );
    let film = compat::verdict(FoundSurface::OilVarnishPolyCured, FinishClass::NitrocelluloseLacquer);
    assert!(film.preparation.starts_with("scuff"), "{}", film.preparation);
}
