//! How much of a finish a zone takes: by spreading rate, by wet film and transfer, or by what the wood drinks.

use quantity::{DryFilm, Range, Spread, Volume, WetFilm};
use trade::FinishClass;
use trade::finish_rows::Group;
use trade::methods::Method;

use super::{Share, total};

/// How much a bare surface drinks of an oil or stain, against the class's typical rate (common practice).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Absorbency {
    /// Sealed, or already full of oil.
    Sealed,
    /// Fine, close pores: maple, cherry, beech.
    #[default]
    Close,
    /// Open pores, soft or weathered wood: oak, ash, pine, old bare wood.
    Open,
}

impl Absorbency {
    const fn factor(self) -> f64 {
        match self {
            Self::Sealed => 0.5,
            Self::Close => 1.0,
            Self::Open => 1.3,
        }
    }
}

/// What a later coat of an oil or stain takes against the first (common practice).
const LATER_COAT: f64 = 0.6;
/// Least share of the material that can arrive, however slender the work.
const LEAST_TRANSFER: f64 = 0.05;

/// A number of coats of one product put on in one way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coating {
    /// What the product is for; oils, stains and waxes are reckoned by what the wood drinks.
    pub group: Group,
    /// How it is put on.
    pub method: Method,
    /// How many coats.
    pub coats: u8,
    /// Thinner, as a share of the product's own volume.
    pub thinner_share: f64,
    /// Spread of one brushed coat, losses included: the label's, or the class's.
    pub spread: Range<Spread>,
    /// Volume solids as bought, 0 to 1, where the class builds a film.
    pub volume_solids: Option<Range<f64>>,
    /// Dry film of one coat, where it builds one.
    pub dry_film: Option<Range<DryFilm>>,
    /// For oils and stains: how thirsty the surface is.
    pub absorbency: Absorbency,
    /// Share of the material that arrives on flat work.
    pub transfer: Range<f64>,
    /// What stays in hoses, cup and tool each time.
    pub set_up_loss: Volume,
    /// Pot life once mixed, in hours, where it is mixed.
    pub pot_life_h: Option<f64>,
}

impl Coating {
    /// The class's own figures.
    #[must_use]
    pub fn of(class: FinishClass, method: Method, coats: u8) -> Self {
        let (row, how) = (class.row(), method.row());
        Self {
            group: row.group,
            method,
            coats,
            thinner_share: 0.0,
            spread: row.spread_brush_m2_per_l.map(Spread::from_m2_per_litre),
            volume_solids: row.volume_solids_pct.map(|range| range.map(|pct| pct / 100.0)),
            dry_film: row.dry_film_um.map(|range| range.map(DryFilm::from_um)),
            absorbency: Absorbency::default(),
            transfer: how.transfer_efficiency,
            set_up_loss: Volume::from_litres(how.set_up_loss_l),
            pot_life_h: row.pot_life_h,
        }
    }

    /// The label's spreading rate, which wins over the class's: likely as stated, a tenth either way.
    #[must_use]
    pub fn with_label_spread(mut self, spread: Spread) -> Self {
        let times = |share: f64| Spread::from_m2_per_litre(spread.m2_per_litre() * share);
        self.spread = Range::new(times(0.9), spread, times(1.1));
        self
    }

    /// The label's solids by volume (0 to 1), which win over the class's. At the same dry film a richer product covers more,
    /// so its brushed spread is taken larger in the same ratio; call [`Coating::with_label_spread`] after this where the label
    /// states that too.
    ///
    /// # Source
    /// `coverage-note`: spread = solids / dry film.
    #[must_use]
    pub fn with_label_solids(mut self, volume_solids: f64) -> Self {
        if !(volume_solids > 0.0 && volume_solids <= 1.0) {
            return self;
        }
        if let Some(usual) = self.volume_solids {
            let richer = volume_solids / usual.typical;
            self.spread = self
                .spread
                .map(|spread| Spread::from_m2_per_litre(spread.m2_per_litre() * richer));
        }
        self.volume_solids = Some(Range::exactly(volume_solids));
        self
    }

    /// The same product put on in another way.
    #[must_use]
    pub fn put_on_by(mut self, method: Method) -> Self {
        let how = method.row();
        self.method = method;
        self.transfer = how.transfer_efficiency;
        self.set_up_loss = Volume::from_litres(how.set_up_loss_l);
        self
    }

    /// Thinned by this share of its own volume.
    #[must_use]
    pub fn thinned(mut self, thinner_share: f64) -> Self {
        self.thinner_share = if thinner_share.is_finite() {
            thinner_share.clamp(0.0, 5.0)
        } else {
            0.0
        };
        self
    }

    /// On a surface that drinks like this.
    #[must_use]
    pub fn on(mut self, absorbency: Absorbency) -> Self {
        self.absorbency = absorbency;
        self
    }

    /// Whether it is reckoned by what the surface drinks.
    #[must_use]
    pub fn soaks_in(&self) -> bool {
        matches!(self.group, Group::Oil | Group::Stain | Group::Wax)
    }
}

/// What some coats take.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoatVolume {
    /// Product as it comes from the can, all coats.
    pub product: Range<Volume>,
    /// Thinner, all coats.
    pub thinner: Range<Volume>,
    /// Product of one coat, or of the first where it takes most.
    pub each_coat: Range<Volume>,
    /// The wet film of one coat as put on, where it is known.
    pub wet_film: Option<WetFilm>,
}

/// The volume that coats on these shares take: [`nth_coat`] for each, added up.
///
/// No area and no coats take nothing.
#[must_use]
pub fn coat_volume(shares: &[Share], coating: &Coating) -> CoatVolume {
    let nothing = Range::exactly(Volume::ZERO);
    let first = nth_coat(shares, coating, 1);
    let mut all = CoatVolume {
        product: nothing,
        thinner: nothing,
        each_coat: first.each_coat,
        wet_film: first.wet_film,
    };
    if coating.coats == 0 {
        all.each_coat = nothing;
        all.wet_film = None;
        return all;
    }
    for nth in 1..=coating.coats {
        let coat = nth_coat(shares, coating, nth);
        all.product = all.product + coat.product;
        all.thinner = all.thinner + coat.thinner;
    }
    all
}

/// The volume that one coat on these shares takes, the first being `nth` 1.
///
/// - Brush, pad, roller, dip: area / spread. The trade's spreading rate holds the ordinary loss, so what stays in the tool
///   is added to the high figure only.
/// - Spray: area × dry film / solids / (transfer × what the shape keeps of it), and what stays in cup and hoses.
/// - Oils, stains, waxes: area / spread × how thirsty the surface is, a later coat six tenths of the first.
///
/// No area takes nothing. With nothing known of its film a sprayed class goes by its spreading rate.
#[must_use]
pub fn nth_coat(shares: &[Share], coating: &Coating, nth: u8) -> CoatVolume {
    if total(shares).m2() <= 0.0 {
        let nothing = Range::exactly(Volume::ZERO);
        return CoatVolume {
            product: nothing,
            thinner: nothing,
            each_coat: nothing,
            wet_film: None,
        };
    }
    let each_coat = if coating.soaks_in() {
        let later = if nth > 1 { LATER_COAT } else { 1.0 };
        by_spread(shares, coating) * (coating.absorbency.factor() * later)
    } else {
        match (coating.method.is_spraying(), coating.volume_solids, coating.dry_film) {
            (true, Some(solids), Some(dry)) => sprayed(shares, coating, solids, dry),
            _ => by_spread(shares, coating),
        }
    };
    let mut product = each_coat;
    let lost = coating.set_up_loss;
    product.high += lost;
    if coating.method.is_spraying() {
        // What stays in the cup is thinned as well.
        let lost = lost / (1.0 + coating.thinner_share);
        product.low += lost * 0.5;
        product.typical += lost;
    }
    CoatVolume {
        product,
        thinner: product * coating.thinner_share,
        each_coat,
        wet_film: match (coating.volume_solids, coating.dry_film) {
            (Some(solids), Some(dry)) => Some(super::thinned_wet_film(
                dry.typical,
                solids.typical,
                coating.thinner_share,
            )),
            _ => None,
        },
    }
}

/// Area over spreading rate; the best spread gives the low figure.
fn by_spread(shares: &[Share], coating: &Coating) -> Range<Volume> {
    let area = total(shares);
    coating.spread.map(|spread| area / spread).reversed()
}

/// One sprayed coat. The film is the likely one throughout; what varies is how much of it arrives.
fn sprayed(shares: &[Share], coating: &Coating, solids: Range<f64>, dry: Range<DryFilm>) -> Range<Volume> {
    let wet = dry.typical.wetted(solids.typical);
    coating
        .transfer
        .map(|transfer| {
            shares
                .iter()
                .map(|share| spray_volume(share, wet, transfer))
                .sum::<Volume>()
        })
        .reversed()
}

/// One sprayed coat of one share: area × wet film over what arrives of it, the transfer efficiency on flat work times what
/// the shape keeps of that.
///
/// # Source
/// `scaqmd-1136` for the transfer efficiency; the shape's factor is common practice.
#[must_use]
pub fn spray_volume(share: &Share, wet: WetFilm, transfer: f64) -> Volume {
    let arrives = (transfer * share.detail.row().spray_transfer).max(LEAST_TRANSFER);
    share.area * wet / arrives
}
