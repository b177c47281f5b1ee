/**
 * Currencies of ISO 4217 and their minor units, list one of 25 June 2024 less funds, metals and codes for testing; XCG as of
 * amendment 176. Node's own list is that of its ICU: another one in each version, with customary digits (none for HUF) in place
 * of the standard's.
 */

/** How many decimals each has; two where it stands in none of these. */
const DECIMALS: readonly (readonly [digits: number, codes: string])[] = [
  [0, "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF"],
  [3, "BHD IQD JOD KWD LYD OMR TND"],
  [
    2,
    "AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF CNY COP CRC CUP CVE " +
      "CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW " +
      "KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK " +
      "PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS " +
      "UAH USD UYU UZS VED VES WST XCD XCG YER ZAR ZMW ZWG",
  ],
];

export const CURRENCIES: ReadonlyMap<string, number> = new Map(
  DECIMALS.flatMap(([digits, codes]) => codes.split(" ").map((code): [string, number] => [code, digits])),
);
