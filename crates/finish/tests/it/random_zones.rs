//! Zones drawn at random, over everything a zone and a wish can be: for the properties that must hold of all of them.

use finish::{
    Condition, Contaminant, Defect, DefectKind, Detail, FoundLayer, LeadTest, Limits, Look, Made, RoomAir, Sheen,
    Soundness, Use, Wish, Without, Zone,
};
use trade::{FinishClass, Substrate};

/// A small generator of its own (SplitMix64), so that the zones are the same everywhere for ever.
pub(crate) struct Draw(u64);

impl Draw {
    pub(crate) fn seeded(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn below(&mut self, n: usize) -> usize {
        usize::try_from(self.next() % u64::try_from(n).unwrap()).unwrap()
    }

    fn one_in(&mut self, n: usize) -> bool {
        self.below(n) == 0
    }

    fn of<T: Copy>(&mut self, from: &[T]) -> T {
        from[self.below(from.len())]
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "53 bits are kept")]
        let unit = (self.next() >> 11) as f64 / (1u64 << 53) as f64;
        low + unit * (high - low)
    }
}

/// A zone, a wish and a shop.
pub(crate) fn draw(draw: &mut Draw) -> (Zone, Wish, Limits) {
    let substrates: Vec<Substrate> = Substrate::every().collect();
    let mut zone = Zone::bare("drawn", draw.of(&substrates));
    for _ in 0..draw.below(4) {
        let found = FoundLayer {
            class: draw.of(FinishClass::EVERY),
            coats: draw.one_in(2).then(|| u8::try_from(1 + draw.below(4)).unwrap()),
            age_d: draw.one_in(8).then(|| draw.between(0.5, 400.0)),
            soundness: draw.of(&[Soundness::Sound, Soundness::Sound, Soundness::Worn, Soundness::Flaking]),
        };
        zone.found.push(found);
    }
    if draw.one_in(2) {
        zone.conditions.push(draw.of(Condition::EVERY));
    }
    if draw.one_in(4) {
        zone.contaminants.push(draw.of(Contaminant::EVERY));
    }
    if draw.one_in(3) {
        let kind = draw.of(DefectKind::EVERY);
        zone.defects.push(Defect {
            kind,
            count: 1 + u32::try_from(draw.below(4)).unwrap(),
            depth_mm: Some(draw.between(0.3, 15.0)),
        });
    }
    zone.area_m2 = draw.between(0.02, 4.0);
    zone.edge_m = draw.between(0.2, 12.0);
    zone.detail = draw.of(Detail::EVERY);
    zone.made = draw.of(&[
        Made::since(1990),
        Made::since(2005),
        Made::default(),
        Made {
            from: Some(1900),
            to: Some(1950),
        },
    ]);
    zone.lead = draw.of(LeadTest::EVERY);
    zone.use_ = draw.of(Use::EVERY);
    zone.removable = zone.substrate.is_metal() && draw.one_in(2);
    (zone, wish(draw), limits(draw))
}

fn wish(draw: &mut Draw) -> Wish {
    let mut wish = Wish::of(draw.of(Look::EVERY));
    wish.colour = draw
        .one_in(2)
        .then(|| draw.of(&[[245, 240, 228], [40, 52, 61], [120, 140, 110]]));
    wish.sheen = draw.one_in(3).then(|| draw.of(Sheen::EVERY));
    wish.strip = draw.one_in(3);
    wish.class = draw.one_in(6).then(|| draw.of(FinishClass::CHOOSABLE));
    wish.coats = draw.one_in(8).then(|| u8::try_from(1 + draw.below(4)).unwrap());
    if draw.one_in(4) {
        wish.without.push(draw.of(Without::EVERY));
    }
    wish.distress = wish.look == Look::Paint && draw.one_in(6);
    wish.glaze = wish.look == Look::Paint && draw.one_in(6);
    wish
}

fn limits(draw: &mut Draw) -> Limits {
    Limits {
        has_spray_gun: draw.one_in(2),
        has_sander: !draw.one_in(4),
        has_heat: draw.one_in(3),
        air: draw.one_in(3).then(|| RoomAir {
            warmest_c: draw.between(8.0, 26.0),
            driest_rh: draw.between(0.35, 0.8),
        }),
        ..Limits::default()
    }
}
