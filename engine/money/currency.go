// Package money counts money exactly: currencies with their minor units, amounts
// as whole numbers of those, prices and percentages as the fractions they are,
// roundings that say to whose side, and shares that add up to what was shared.
//
// What always holds: no float holds money; a fraction of a minor unit lives only
// in a big.Rat, and leaves it by one named rounding.
package money

import (
	"fmt"
	"slices"
	"strings"

	"stallwright/engine/document"
)

// Currency is a code of ISO 4217, as USD.
type Currency string

// Codes of ISO 4217 list one (as of 2025, by the data set currency-codes), by the
// number of decimals that the standard gives their minor unit. Codes without a
// minor unit, such as those of metals, are left out: nothing is offered in them.
const (
	twoDecimals = " AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BGN BMD BND BOB BOV BRL BSD BTN BWP BYN BZD CAD CDF CHE CHF CHW CNY COP COU CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD USN UZS VED VES WST XCD XCG YER ZAR ZMW ZWG "
	noDecimals  = " BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF "
	three       = " BHD IQD JOD KWD LYD OMR TND "
	four        = " CLF UYW "
)

// Decimals is how many decimals amounts of the currency have: the exponent of its
// minor unit in ISO 4217. ok is false where the standard has no such currency.
func (c Currency) Decimals() (n int, ok bool) {
	code := " " + string(c) + " "
	if len(code) != 5 {
		return 0, false
	}
	for _, of := range []struct {
		codes string
		n     int
	}{{twoDecimals, 2}, {noDecimals, 0}, {three, 3}, {four, 4}} {
		if strings.Contains(of.codes, code) {
			return of.n, true
		}
	}
	return 0, false
}

// Codes are all currencies, in order.
func Codes() []string {
	all := strings.Fields(twoDecimals + noDecimals + three + four)
	slices.Sort(all)
	return all
}

// UnmarshalText reads a code of ISO 4217.
func (c *Currency) UnmarshalText(text []byte) error {
	s := Currency(text)
	if _, ok := s.Decimals(); ok {
		*c = s
		return nil
	}
	hint := "the code of ISO 4217, as USD, CAD, EUR, NOK"
	if near, ok := document.Nearest(strings.ToUpper(string(text)), Codes()); ok {
		hint = "did you mean " + near + "? Right is " + hint
	}
	return &hinted{fmt.Sprintf("ISO 4217 has no currency %q", text), hint}
}

// MarshalText writes the code.
func (c Currency) MarshalText() ([]byte, error) { return []byte(c), nil }

// Describe tells the schema of it.
func (Currency) Describe() document.Description {
	return document.Description{Doc: "a currency's code by ISO 4217", Pattern: "^[A-Z]{3}$", Examples: []string{"USD", "EUR", "NOK"}}
}

// hinted is an error that says what would be right.
type hinted struct{ problem, hint string }

func (e *hinted) Error() string { return e.problem }
func (e *hinted) Hint() string  { return e.hint }
