//! Whether a lot of scrap is worth sending now, or better held until it has grown.

use super::{Lot, Price, SettlementError};
use crate::limits::{Limit, SHARE};
use crate::quantity::Mass;

/// Whether a lot is worth sending now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LotAdvice {
    /// Fees over gross; none for a lot worth nothing.
    pub fee_share: Option<f64>,
    /// Lot of the same metal whose fees come down to the chosen share; none if the charges by mass
    /// alone are above it.
    pub lot_for_share: Option<Mass>,
    /// Whether to hold the lot until it has grown.
    pub hold: bool,
}

impl Lot {
    /// Whether the lot is worth sending now, if fees should be no more than a share of the gross.
    ///
    /// Fixed fees `F`, charges by mass `c`, gross by mass `g`: the share falls to `s` at the mass
    /// `F / (s g - c)`.
    ///
    /// # Units
    /// A share of one in; a mass and a share out, not rounded.
    /// # Validity
    /// A lot of the same assay, paid at the same terms, with as many assays.
    /// # Errors
    /// As [`settle`](Lot::settle), and [`SettlementError::Limit`] naming `fee_share`.
    /// # Source
    /// Arithmetic.
    ///
    /// ```
    /// use linkwright_calc::money::{
    ///     Currency, Lot, LotFees, Money, PaidMetal, Price, PricePer, PricedMetal,
    /// };
    /// use linkwright_calc::quantity::Mass;
    /// let price = Price::new(0.80, Currency::EUR, PricePer::Gram, PricedMetal::Fine).unwrap();
    /// let silver = PaidMetal { assay: 0.925, paid_share: 0.95, price, refining: None };
    /// let fees = LotFees::fixed(Money::new(3500, Currency::EUR));
    /// let lot = Lot { melt: Mass::from_g(74.1), metals: vec![silver], fees };
    /// let advice = lot.advice(0.10).unwrap();
    /// assert!((advice.fee_share.unwrap() - 0.67).abs() < 0.005 && advice.hold);
    /// assert!((advice.lot_for_share.unwrap().g() - 498.0).abs() < 0.5);
    /// ```
    pub fn advice(&self, fee_share: f64) -> Result<LotAdvice, SettlementError> {
        self.check()?;
        let wanted = Limit { field: "fee_share", low: 1e-6, ..SHARE }.check(fee_share)?;
        let (gross, by_mass) = self.metals.iter().fold((0.0, 0.0), |(gross, by_mass), metal| {
            let charge = metal.refining.map_or(0.0, Price::minor_per_gram);
            let paid = metal.assay * metal.paid_share * metal.price.minor_per_gram();
            (gross + paid, by_mass + metal.assay * charge)
        });
        let by_mass = by_mass + self.fees.treatment_by_mass.map_or(0.0, Price::minor_per_gram);
        let fixed = self.fixed_fees_minor();
        let fee_share =
            (gross > 0.0).then(|| (fixed + by_mass * self.melt.g()) / (gross * self.melt.g()));
        let left_for_fixed = wanted * gross - by_mass;
        Ok(LotAdvice {
            fee_share,
            lot_for_share: (left_for_fixed > 0.0).then(|| Mass::from_g(fixed / left_for_fixed)),
            hold: fee_share.is_none_or(|share| share > wanted),
        })
    }

    fn fixed_fees_minor(&self) -> f64 {
        let fees = &self.fees;
        #[expect(clippy::cast_precision_loss, reason = "a share is asked, not the last minor unit")]
        let [treatment, assay, shipping] =
            [fees.treatment, fees.assay, fees.shipping].map(|money| money.minor() as f64);
        treatment + assay * f64::from(fees.assays) + shipping
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert, proptest};

    use crate::money::{Currency, Lot, LotFees, Money, PaidMetal, Price, PricePer, PricedMetal};
    use crate::quantity::Mass;

    fn per_gram(major: f64, metal: PricedMetal) -> Price {
        Price::new(major, Currency::EUR, PricePer::Gram, metal).unwrap()
    }

    /// Gross 34.4 a gram, fixed fees 50.00, 0.05 a gram for treatment.
    fn karat_gold() -> Lot {
        let price = per_gram(60.0, PricedMetal::Fine);
        let fees = LotFees::fixed(Money::new(5000, Currency::EUR));
        Lot {
            melt: Mass::from_g(40.0),
            metals: vec![PaidMetal { assay: 0.585, paid_share: 0.98, price, refining: None }],
            fees: LotFees {
                treatment_by_mass: Some(per_gram(0.05, PricedMetal::AsWeighed)),
                ..fees
            },
        }
    }

    #[test]
    fn charges_by_mass_above_the_share_can_never_be_outgrown() {
        let mut lot = karat_gold();
        lot.fees.treatment_by_mass = Some(per_gram(5.0, PricedMetal::AsWeighed));
        // More than a tenth of the gross.
        let advice = lot.advice(0.10).unwrap();
        assert_eq!((advice.lot_for_share, advice.hold), (None, true));
    }

    #[test]
    fn a_lot_worth_nothing_is_held() {
        let mut lot = karat_gold();
        lot.metals[0].assay = 0.0;
        let advice = lot.advice(0.10).unwrap();
        assert_eq!((advice.fee_share, advice.hold), (None, true));
    }

    proptest! {
        #[test]
        fn the_lot_for_a_share_pays_just_that_share(share in 0.02..0.9) {
            let mut lot = karat_gold();
            lot.melt = lot.advice(share).unwrap().lot_for_share.unwrap();
            let again = lot.advice(share).unwrap().fee_share.unwrap();
            prop_assert!((again / share - 1.0).abs() < 1e-12); // rounding of a dozen steps
        }
    }
}
