//! Currencies by their ISO 4217 code, with the decimals of the minor unit.
//!
//! Source `iso-4217`: list one, read in an openly licensed copy of its 2014 edition; later changes (UGX without decimals,
//! the new BYN, MRU, STN, SLE, VES, XCG, ZMW and ZWG, and the codes that the euro replaced) from memory. Funds, metals
//! and units of account are left out: no shop is paid in them.

use std::fmt;

use serde::{Deserialize, Serialize};

use crate::Refusal;

const NO_DECIMALS: &str = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF";
const TWO_DECIMALS: &str = "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF \
    CHF CNY COP CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR \
    IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO \
    NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS \
    TMT TOP TRY TTD TWD TZS UAH USD UYU UZS VES WST XCD XCG YER ZAR ZMW ZWG";
const THREE_DECIMALS: &str = "BHD IQD JOD KWD LYD OMR TND";

/// Signs written before an amount, with the currencies that use them.
pub(crate) const SIGNS: [(&str, &[&str]); 5] = [
    ("$", &["USD", "CAD", "AUD", "NZD", "SGD", "HKD", "MXN", "TWD"]),
    ("€", &["EUR"]),
    ("£", &["GBP"]),
    ("¥", &["JPY", "CNY"]),
    ("₹", &["INR"]),
];

/// A currency by its ISO 4217 code.
///
/// ```
/// use quantity::Currency;
/// assert_eq!(Currency::parse("usd")?.minor_per_one(), 100);
/// assert_eq!(Currency::parse("JPY")?.decimals(), 0);
/// # Ok::<(), quantity::Refusal>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Currency {
    code: [u8; 3],
    decimals: u8,
}

impl Currency {
    /// The dollar of the United States.
    pub const USD: Self = Self {
        code: *b"USD",
        decimals: 2,
    };

    /// The currency of a three-letter code, in either case.
    ///
    /// # Errors
    /// When the list has no such code.
    pub fn parse(typed: &str) -> Result<Self, Refusal> {
        let wanted = typed.trim().to_ascii_uppercase();
        let lists = [(NO_DECIMALS, 0), (TWO_DECIMALS, 2), (THREE_DECIMALS, 3)];
        lists
            .iter()
            .find(|(codes, _)| codes.split_whitespace().any(|code| code == wanted))
            .and_then(|(_, decimals)| {
                Some(Self {
                    code: wanted.as_bytes().try_into().ok()?,
                    decimals: *decimals,
                })
            })
            .ok_or_else(|| {
                Refusal::new(
                    typed,
                    "is no currency that a shop is paid in".to_owned(),
                    "the three letters of its ISO 4217 code",
                    "USD",
                )
            })
    }

    /// The three capital letters of ISO 4217.
    #[must_use]
    pub fn code(&self) -> &str {
        std::str::from_utf8(&self.code).unwrap_or("XXX")
    }

    /// How many decimals the minor unit has: 2 for cents, 0 for the yen.
    #[must_use]
    pub const fn decimals(self) -> u8 {
        self.decimals
    }

    /// How many minor units make one.
    #[must_use]
    pub const fn minor_per_one(self) -> i64 {
        10_i64.pow(self.decimals as u32)
    }

    /// The sign written before an amount, for the few that have one everybody knows.
    #[must_use]
    pub fn sign(self) -> Option<&'static str> {
        SIGNS
            .iter()
            .find(|(_, codes)| codes.contains(&self.code()))
            .map(|(sign, _)| *sign)
    }
}

impl Default for Currency {
    fn default() -> Self {
        Self::USD
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}

impl From<Currency> for String {
    fn from(currency: Currency) -> Self {
        currency.code().to_owned()
    }
}

impl TryFrom<String> for Currency {
    type Error = Refusal;
    fn try_from(code: String) -> Result<Self, Refusal> {
        Self::parse(&code)
    }
}
