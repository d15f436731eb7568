//! Which line of a settlement made it differ from what was expected.

use super::{Lot, Money, SettlementError};

/// A line of a settlement that can differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GapCause {
    /// Mass after melting.
    Melt,
    /// Fineness found.
    Assay,
    /// Share of the fine metal that was paid.
    PaidShare,
    /// Price of the fine metal.
    Price,
    /// Treatment, refining, assay and carriage.
    Fees,
}

/// What one line took from the expected sum.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct GapLine {
    /// The line.
    pub cause: GapCause,
    /// Money lost by it; below nought if it paid more than expected.
    pub lost: Money,
}

/// The difference between an expected and a real settlement, by line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SettlementGap {
    /// Net expected.
    pub expected: Money,
    /// Net got.
    pub got: Money,
    /// Expected less got.
    pub gap: Money,
    /// One entry per line, in the order in which a refiner's sheet runs; they add up to the gap to
    /// the last minor unit.
    pub lines: Vec<GapLine>,
}

impl SettlementGap {
    /// The line that lost most; none if no line lost anything.
    ///
    /// # Units
    /// Money.
    /// # Validity
    /// Of two that lost the same, the later on the sheet.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::money::{Currency, GapCause, GapLine, Money, SettlementGap};
    /// let eur = |minor| Money::new(minor, Currency::EUR);
    /// let lines = vec![
    ///     GapLine { cause: GapCause::Melt, lost: eur(176) },
    ///     GapLine { cause: GapCause::Assay, lost: eur(125) },
    /// ];
    /// let gap = SettlementGap { expected: eur(1709), got: eur(1408), gap: eur(301), lines };
    /// assert_eq!(gap.main_cause().unwrap().cause, GapCause::Melt);
    /// ```
    pub fn main_cause(&self) -> Option<GapLine> {
        let lost = self.lines.iter().copied().filter(|line| line.lost.minor() > 0);
        lost.max_by_key(|line| line.lost.minor())
    }
}

/// Compares a settlement with what was expected and says which line lost how much.
///
/// The expected lot is turned into the settled one a line at a time: melt, assay, paid share, price,
/// fees. What the net falls by at each step is that line's part.
///
/// # Units
/// Money in whole minor units.
/// # Validity
/// The parts depend on the order where two lines differ at once: the assay's is valued at the
/// settled melt, the melt's at the expected assay. Both lots list the same metals in the same order.
/// # Errors
/// As [`Lot::settle`]; [`SettlementError::MetalsDiffer`] if the lists differ in length,
/// [`SettlementError::TwoCurrencies`] if the lots are in two currencies.
/// # Source
/// Replacement in sequence, as in a variance analysis of costs; own choice of order, the order in
/// which a settlement is worked.
///
/// ```
/// use linkwright_calc::money::{
///     Currency, GapCause, Lot, LotFees, Money, PaidMetal, Price, PricePer, PricedMetal,
///     settlement_gap,
/// };
/// use linkwright_calc::quantity::Mass;
/// let lot = |melt_g, assay| {
///     let price = Price::new(0.80, Currency::EUR, PricePer::Gram, PricedMetal::Fine).unwrap();
///     let silver = PaidMetal { assay, paid_share: 0.95, price, refining: None };
///     let fees = LotFees::fixed(Money::new(3500, Currency::EUR));
///     Lot { melt: Mass::from_g(melt_g), metals: vec![silver], fees }
/// };
/// let found = settlement_gap(&lot(74.1, 0.925), &lot(71.6, 0.902)).unwrap();
/// assert_eq!(found.gap.to_string(), "3.01 EUR");
/// let most = found.main_cause().unwrap();
/// assert_eq!((most.cause, most.lost.to_string().as_str()), (GapCause::Melt, "1.76 EUR"));
/// ```
pub fn settlement_gap(expected: &Lot, settled: &Lot) -> Result<SettlementGap, SettlementError> {
    if expected.metals.len() != settled.metals.len() {
        return Err(SettlementError::MetalsDiffer {
            expected: expected.metals.len(),
            settled: settled.metals.len(),
        });
    }
    let expected_net = expected.settle()?.net;
    let got = settled.settle()?.net;
    if expected_net.currency() != got.currency() {
        return Err(SettlementError::TwoCurrencies {
            one: expected_net.currency(),
            other: got.currency(),
        });
    }
    let mut so_far = expected.clone();
    let mut net = expected_net;
    let mut lines = Vec::new();
    for cause in
        [GapCause::Melt, GapCause::Assay, GapCause::PaidShare, GapCause::Price, GapCause::Fees]
    {
        replace(&mut so_far, settled, cause);
        let next = so_far.settle()?.net;
        lines.push(GapLine { cause, lost: less(net, next)? });
        net = next;
    }
    Ok(SettlementGap { expected: expected_net, got, gap: less(expected_net, got)?, lines })
}

/// Takes one line over from the settled lot.
fn replace(lot: &mut Lot, settled: &Lot, cause: GapCause) {
    match cause {
        GapCause::Melt => lot.melt = settled.melt,
        GapCause::Fees => lot.fees = settled.fees,
        GapCause::Assay | GapCause::PaidShare | GapCause::Price => {}
    }
    for (metal, settled) in lot.metals.iter_mut().zip(&settled.metals) {
        match cause {
            GapCause::Assay => metal.assay = settled.assay,
            GapCause::PaidShare => metal.paid_share = settled.paid_share,
            GapCause::Price => metal.price = settled.price,
            GapCause::Fees => metal.refining = settled.refining,
            GapCause::Melt => {}
        }
    }
}

fn less(one: Money, other: Money) -> Result<Money, SettlementError> {
    Ok(one.plus(Money::new(-other.minor(), other.currency()))?)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert_eq, proptest};

    use super::settlement_gap;
    use crate::money::{
        Currency, Lot, LotFees, Money, PaidMetal, Price, PricePer, PricedMetal, SettlementError,
    };
    use crate::quantity::Mass;

    fn lot(melt_g: f64, assay: f64, paid_share: f64, price: f64, fee_minor: i64) -> Lot {
        let price = Price::new(price, Currency::EUR, PricePer::Gram, PricedMetal::Fine).unwrap();
        Lot {
            melt: Mass::from_g(melt_g),
            metals: vec![PaidMetal { assay, paid_share, price, refining: None }],
            fees: LotFees::fixed(Money::new(fee_minor, Currency::EUR)),
        }
    }

    #[test]
    fn a_settlement_as_expected_has_no_cause() {
        let same = lot(100.0, 0.925, 0.95, 0.80, 3500);
        let found = settlement_gap(&same, &same).unwrap();
        assert_eq!((found.gap.minor(), found.main_cause()), (0, None));
    }

    #[test]
    fn lists_of_other_length_are_refused() {
        let one = lot(100.0, 0.4, 0.95, 0.80, 3500);
        let mut two = one.clone();
        two.metals.push(two.metals[0]);
        assert_eq!(
            settlement_gap(&one, &two),
            Err(SettlementError::MetalsDiffer { expected: 1, settled: 2 })
        );
    }

    proptest! {
        #[test]
        fn the_lines_add_up_to_the_gap(
            melt_g in 50.0..100.0, assay in 0.80..0.93, paid_share in 0.8..0.99,
            price in 0.5..1.0, fee_minor in 0_i64..5000,
        ) {
            let expected = lot(74.1, 0.925, 0.95, 0.80, 3500);
            let settled = lot(melt_g, assay, paid_share, price, fee_minor);
            let found = settlement_gap(&expected, &settled).unwrap();
            let sum: i64 = found.lines.iter().map(|line| line.lost.minor()).sum();
            prop_assert_eq!(sum, found.gap.minor());
        }
    }
}
