//! Currencies: a three-letter code and how many decimals its minor unit stands for.

use std::fmt;

/// A currency of ISO 4217, such as EUR with 2 decimals, JPY with none or KWD with 3.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Currency {
    code: &'static str,
    decimals: u8,
}

impl Currency {
    /// Pound sterling.
    pub const GBP: Currency = Currency::new("GBP", 2);
    /// Euro.
    pub const EUR: Currency = Currency::new("EUR", 2);
    /// United States dollar.
    pub const USD: Currency = Currency::new("USD", 2);

    const fn new(code: &'static str, decimals: u8) -> Currency {
        Currency { code, decimals }
    }

    /// The currency of a three-letter code, in capitals or not; `None` if no money has that code.
    ///
    /// # Units
    /// None.
    /// # Validity
    /// Money in use. The codes of metals (XAU, XAG, XPT, XPD), of funds and of testing are left
    /// out: nobody is paid in them.
    /// # Source
    /// ISO 4217, list one: codes equal those of PyPI `pycountry` 26.2.16 less metals, funds and
    /// testing; decimals from memory.
    ///
    /// ```
    /// use linkwright_calc::money::Currency;
    /// assert_eq!(Currency::from_code("jpy").unwrap().decimals(), 0);
    /// assert_eq!(Currency::from_code("EUR"), Some(Currency::EUR));
    /// assert_eq!(Currency::from_code("XAU"), None);
    /// ```
    pub fn from_code(code: &str) -> Option<Currency> {
        let among = |codes: &'static str, decimals| {
            codes
                .split_ascii_whitespace()
                .find(|known| known.eq_ignore_ascii_case(code))
                .map(|known| Currency::new(known, decimals))
        };
        among(TWO_DECIMALS, 2)
            .or_else(|| among(NO_DECIMALS, 0))
            .or_else(|| among(THREE_DECIMALS, 3))
    }

    /// The code in capitals.
    pub const fn code(self) -> &'static str {
        self.code
    }

    /// Decimals of an amount: 2 where a hundred minor units make one major unit.
    pub const fn decimals(self) -> u8 {
        self.decimals
    }

    /// Minor units in one major unit, `10^decimals`.
    ///
    /// # Units
    /// Minor units for one major unit.
    /// # Validity
    /// Two currencies whose coins are fifths (MGA, MRU) count as hundredths, as ISO 4217 has them.
    /// # Source
    /// Definition.
    ///
    /// ```
    /// use linkwright_calc::money::Currency;
    /// assert_eq!(Currency::EUR.minor_per_major(), 100);
    /// assert_eq!(Currency::from_code("JPY").unwrap().minor_per_major(), 1);
    /// ```
    pub const fn minor_per_major(self) -> u32 {
        10_u32.pow(self.decimals as u32)
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code)
    }
}

// ISO 4217 list one, from memory: currencies without, with three and with two decimals.
const NO_DECIMALS: &str = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF";
const THREE_DECIMALS: &str = "BHD IQD JOD KWD LYD OMR TND";
const TWO_DECIMALS: &str = "\
    AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF \
    CHF CNY COP CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD \
    HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA \
    MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN \
    QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP \
    TRY TTD TWD TZS UAH USD UYU UZS VED VES WST XCD XCG YER ZAR ZMW ZWG";
