//! What a refiner pays for a lot: fine metal at a share of its price, less fees.

use super::{Currency, Money, MoneyError, Price, PricedMetal, SettlementError};
use crate::limits::{Limit, MASS, SHARE};
use crate::quantity::Mass;

/// A lot of scrap as it is settled, or as it is expected to be.
#[derive(Clone, Debug, PartialEq)]
pub struct Lot {
    /// Mass the settlement starts from: expected, what was sent; settled, what the melt weighed.
    pub melt: Mass,
    /// Metals that are paid for, each apart.
    pub metals: Vec<PaidMetal>,
    /// What is taken off.
    pub fees: LotFees,
}

/// One fine metal of a lot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PaidMetal {
    /// Fine metal over melt mass, a share of one: the assay, or before it the alloy's fineness.
    pub assay: f64,
    /// Share of the fine metal that is paid for.
    pub paid_share: f64,
    /// Price of the fine metal.
    pub price: Price,
    /// Refining charge on the fine metal, if there is one.
    pub refining: Option<Price>,
}

/// Fees of a lot; all in the currency of the prices.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LotFees {
    /// Fixed sum for treating the lot.
    pub treatment: Money,
    /// Treatment by mass received, if there is one.
    pub treatment_by_mass: Option<Price>,
    /// Sum for one assay.
    pub assay: Money,
    /// Assays made.
    pub assays: u32,
    /// Carriage and insurance.
    pub shipping: Money,
}

/// A settlement line by line; each line is rounded once to the minor unit, so that the lines add up
/// to the sums as printed.
#[derive(Clone, Debug, PartialEq)]
pub struct Settlement {
    /// Fine mass of each metal, in the order of the lot.
    pub fine: Vec<Mass>,
    /// Paid for each metal before fees, in the order of the lot.
    pub metals: Vec<Money>,
    /// Sum of the metals.
    pub gross: Money,
    /// Treatment, fixed and by mass.
    pub treatment: Money,
    /// Refining of all metals.
    pub refining: Money,
    /// All assays.
    pub assay: Money,
    /// Carriage and insurance.
    pub shipping: Money,
    /// Sum of the fees.
    pub fees: Money,
    /// Gross less fees; below nought if the fees eat the lot.
    pub net: Money,
}

impl LotFees {
    /// No fee but a fixed sum for the lot.
    ///
    /// # Units
    /// Money.
    /// # Validity
    /// Any sum.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::money::{Currency, LotFees, Money};
    /// let fees = LotFees::fixed(Money::new(3500, Currency::EUR));
    /// assert_eq!((fees.treatment.minor(), fees.assays), (3500, 0));
    /// ```
    pub const fn fixed(treatment: Money) -> LotFees {
        let none = Money::new(0, treatment.currency());
        LotFees { treatment, treatment_by_mass: None, assay: none, assays: 0, shipping: none }
    }
}

impl Lot {
    /// What the lot pays.
    ///
    /// `net = sum(fine paid_share price) - treatment - refining fine - assays - shipping`, with
    /// `fine = melt assay` for each metal.
    ///
    /// # Units
    /// Masses, shares of one, prices per mass; money in whole minor units.
    /// # Validity
    /// Base metal is not paid for; taxes are no part of it. Rounded as [`Money::rounded`], line by
    /// line.
    /// # Errors
    /// [`SettlementError`]: a share or a mass outside its limits, no metal, assays above the whole,
    /// prices of the wrong kind or of two currencies.
    /// # Source
    /// Structure as a gold refinery's settlement page and a metallurgy contract page print it; the
    /// figures of a contract are the user's.
    ///
    /// ```
    /// use linkwright_calc::money::{
    ///     Currency, Lot, LotFees, Money, PaidMetal, Price, PricePer, PricedMetal,
    /// };
    /// use linkwright_calc::quantity::Mass;
    /// let price = Price::new(0.80, Currency::EUR, PricePer::Gram, PricedMetal::Fine).unwrap();
    /// let silver = PaidMetal { assay: 0.902, paid_share: 0.95, price, refining: None };
    /// let fees = LotFees::fixed(Money::new(3500, Currency::EUR));
    /// let lot = Lot { melt: Mass::from_g(71.6), metals: vec![silver], fees };
    /// assert_eq!(lot.settle().unwrap().net.to_string(), "14.08 EUR");
    /// ```
    pub fn settle(&self) -> Result<Settlement, SettlementError> {
        let currency = self.check()?;
        let minor = |minor: f64| Money::rounded(minor, currency);
        let none = Money::new(0, currency);
        let (mut fine, mut metals, mut gross) = (Vec::new(), Vec::new(), none);
        let mut refining = 0.0;
        for metal in &self.metals {
            let fine_g = self.melt.g() * metal.assay;
            let paid = minor(fine_g * metal.paid_share * metal.price.minor_per_gram())?;
            refining += metal.refining.map_or(0.0, |charge| fine_g * charge.minor_per_gram());
            fine.push(Mass::from_g(fine_g));
            metals.push(paid);
            gross = gross.plus(paid)?;
        }
        let fees = &self.fees;
        let by_mass =
            fees.treatment_by_mass.map_or(0.0, |charge| self.melt.g() * charge.minor_per_gram());
        let treatment = fees.treatment.plus(minor(by_mass)?)?;
        let refining = minor(refining)?;
        let assay = times(fees.assay, fees.assays)?;
        let all_fees = treatment.plus(refining)?.plus(assay)?.plus(fees.shipping)?;
        Ok(Settlement {
            fine,
            metals,
            gross,
            treatment,
            refining,
            assay,
            shipping: fees.shipping,
            fees: all_fees,
            net: gross.plus(times(all_fees, -1)?)?,
        })
    }

    /// Checks every number; gives the one currency.
    pub(super) fn check(&self) -> Result<Currency, SettlementError> {
        Limit { field: "melt_mass_g", low: 1e-6, ..MASS }.check(self.melt.g())?;
        let first = self.metals.first().ok_or(SettlementError::NoMetal)?;
        let currency = first.price.currency();
        let mut assays = 0.0;
        for metal in &self.metals {
            assays += SHARE.named("assay").check(metal.assay)?;
            SHARE.named("paid_share").check(metal.paid_share)?;
            same_currency(currency, metal.price.currency())?;
            priced(PricedMetal::Fine, Some(metal.price))?;
            priced(PricedMetal::Fine, metal.refining)?;
            metal.refining.map_or(Ok(()), |charge| same_currency(currency, charge.currency()))?;
        }
        if assays > 1.0 {
            return Err(SettlementError::AssaysAboveWhole { share: assays });
        }
        let fees = &self.fees;
        priced(PricedMetal::AsWeighed, fees.treatment_by_mass)?;
        let by_mass = fees.treatment_by_mass.map(Price::currency);
        let amounts = [fees.treatment, fees.assay, fees.shipping].map(Money::currency);
        for other in amounts.into_iter().chain(by_mass) {
            same_currency(currency, other)?;
        }
        Ok(currency)
    }
}

impl Settlement {
    /// Fine mass of all metals together, from the melt and the assays.
    ///
    /// # Units
    /// A mass.
    /// # Validity
    /// Any settlement.
    /// # Source
    /// Sum.
    ///
    /// ```
    /// use linkwright_calc::money::{
    ///     Currency, Lot, LotFees, Money, PaidMetal, Price, PricePer, PricedMetal,
    /// };
    /// use linkwright_calc::quantity::Mass;
    /// let price = Price::new(0.80, Currency::EUR, PricePer::Gram, PricedMetal::Fine).unwrap();
    /// let silver = PaidMetal { assay: 0.902, paid_share: 0.95, price, refining: None };
    /// let fees = LotFees::fixed(Money::new(3500, Currency::EUR));
    /// let lot = Lot { melt: Mass::from_g(71.6), metals: vec![silver], fees };
    /// assert!((lot.settle().unwrap().fine_mass().g() - 64.58).abs() < 0.005);
    /// ```
    pub fn fine_mass(&self) -> Mass {
        self.fine.iter().fold(Mass::from_g(0.0), |sum, fine| sum + *fine)
    }
}

fn times(amount: Money, factor: impl Into<i64>) -> Result<Money, MoneyError> {
    let factor = factor.into();
    #[expect(clippy::cast_precision_loss, reason = "only to say how large it is")]
    let too_large = || MoneyError::AmountTooLarge { minor: amount.minor() as f64 * factor as f64 };
    let minor = amount.minor().checked_mul(factor).ok_or_else(too_large)?;
    Ok(Money::new(minor, amount.currency()))
}

fn same_currency(one: Currency, other: Currency) -> Result<(), SettlementError> {
    if one == other { Ok(()) } else { Err(SettlementError::TwoCurrencies { one, other }) }
}

fn priced(metal: PricedMetal, price: Option<Price>) -> Result<(), SettlementError> {
    match price {
        Some(price) if price.metal() != metal => Err(SettlementError::PricedOtherwise),
        _ => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert_eq, proptest};

    use super::{Lot, LotFees, PaidMetal, SettlementError};
    use crate::money::{Currency, Money, Price, PricePer, PricedMetal};
    use crate::quantity::Mass;

    fn per_gram(major: f64, metal: PricedMetal) -> Price {
        Price::new(major, Currency::EUR, PricePer::Gram, metal).unwrap()
    }

    fn paid(assay: f64, price_major: f64) -> PaidMetal {
        let price = per_gram(price_major, PricedMetal::Fine);
        PaidMetal { assay, paid_share: 0.98, price, refining: None }
    }

    fn karat_gold() -> Lot {
        Lot {
            melt: Mass::from_g(40.0),
            metals: vec![paid(0.585, 60.0), paid(0.25, 0.80)],
            fees: LotFees {
                treatment: Money::new(5000, Currency::EUR),
                treatment_by_mass: Some(per_gram(0.05, PricedMetal::AsWeighed)),
                assay: Money::new(1200, Currency::EUR),
                assays: 3,
                shipping: Money::new(1850, Currency::EUR),
            },
        }
    }

    #[test]
    fn two_metals_are_paid_apart_and_every_line_adds_up() {
        let mut lot = karat_gold();
        lot.metals[0].refining = Some(per_gram(0.40, PricedMetal::Fine));
        let settled = lot.settle().unwrap();
        // 23.4 g gold x 0.98 x 60 = 1375.92; 10 g silver x 0.98 x 0.80 = 7.84.
        assert_eq!(
            settled.metals.iter().map(|paid| paid.minor()).collect::<Vec<_>>(),
            [137_592, 784]
        );
        // 50.00 + 40 g x 0.05; 23.4 g x 0.40; 3 x 12.00.
        assert_eq!(settled.treatment.minor(), 5200);
        assert_eq!(settled.refining.minor(), 936);
        assert_eq!(settled.assay.minor(), 3600);
        assert_eq!(settled.net.minor(), 137_592 + 784 - 5200 - 936 - 3600 - 1850);
    }

    #[test]
    fn what_cannot_be_settled_is_refused_by_its_reason() {
        let refused = |change: fn(&mut Lot)| {
            let mut lot = karat_gold();
            change(&mut lot);
            lot.settle().unwrap_err()
        };
        assert_eq!(refused(|lot| lot.metals.clear()), SettlementError::NoMetal);
        assert!(matches!(
            refused(|lot| lot.metals[1].assay = 0.5),
            SettlementError::AssaysAboveWhole { share } if share > 1.08
        ));
        assert_eq!(
            refused(|lot| lot.metals[0].price = per_gram(60.0, PricedMetal::AsWeighed)),
            SettlementError::PricedOtherwise
        );
        assert_eq!(
            refused(|lot| lot.fees.shipping = Money::new(1, Currency::GBP)),
            SettlementError::TwoCurrencies { one: Currency::EUR, other: Currency::GBP }
        );
        let by_name = refused(|lot| lot.metals[0].paid_share = 95.0).to_string();
        assert!(by_name.starts_with("paid_share is 95"), "{by_name}");
    }

    proptest! {
        #[test]
        fn the_lines_add_up_to_the_net(
            melt_g in 0.1..5000.0, assay in 0.0..0.7, price in 0.1..90.0,
            charge in 0.0..2.0, assays in 0_u32..5,
        ) {
            let mut lot = karat_gold();
            lot.melt = Mass::from_g(melt_g);
            lot.metals[0] = paid(assay, price);
            lot.metals[0].refining = Some(per_gram(charge, PricedMetal::Fine));
            lot.fees.assays = assays;
            let settled = lot.settle().unwrap();
            let gross: i64 = settled.metals.iter().map(|paid| paid.minor()).sum();
            let fees = settled.treatment.minor() + settled.refining.minor()
                + settled.assay.minor() + settled.shipping.minor();
            prop_assert_eq!(settled.net.minor(), gross - fees);
        }
    }
}
