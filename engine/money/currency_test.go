package money_test

import (
	"errors"
	"slices"
	"testing"

	"golang.org/x/text/currency"

	"stallwright/engine/money"
)

// Minor units other than two decimals, by ISO 4217 list one (2025), as the data set
// datasets/currency-codes, file codes-all.csv, gives them (read there).
var unusual = map[string]int{
	"BIF": 0, "CLP": 0, "DJF": 0, "GNF": 0, "ISK": 0, "JPY": 0, "KMF": 0, "KRW": 0, "PYG": 0, "RWF": 0, "UGX": 0, "UYI": 0, "VND": 0, "VUV": 0, "XAF": 0, "XOF": 0, "XPF": 0,
	"BHD": 3, "IQD": 3, "JOD": 3, "KWD": 3, "LYD": 3, "OMR": 3, "TND": 3,
	"CLF": 4, "UYW": 4,
}

// In these, golang.org/x/text (CLDR) leaves decimals out that ISO 4217 has and
// nobody uses.
var inUse = []string{
	"AFN", "ALL", "AMD", "COP", "GYD", "IDR", "IQD", "IRR", "KPW", "LAK", "LBP", "MGA", "MMK", "MNT", "MUR", "PKR", "RSD", "SOS", "SYP", "TZS", "UZS", "YER",
}

func TestDecimalsAreThoseOfISO4217(t *testing.T) {
	if n := len(money.Codes()); n < 150 || n > 170 {
		t.Errorf("%d currencies; ISO 4217 has some 160 with a minor unit", n)
	}
	for _, code := range money.Codes() {
		want, odd := unusual[code]
		if !odd {
			want = 2
		}
		if got, ok := money.Currency(code).Decimals(); !ok || got != want {
			t.Errorf("%s has %d decimals, want %d", code, got, want)
		}
		u, err := currency.ParseISO(code)
		if err != nil {
			continue // younger than the library's table
		}
		scale, _ := currency.Standard.Rounding(u)
		if scale != want && !slices.Contains(inUse, code) {
			t.Errorf("%s: x/text has %d decimals, ISO 4217 %d", code, scale, want)
		}
	}
	for code := range unusual {
		if !slices.Contains(money.Codes(), code) {
			t.Errorf("%s is missing", code)
		}
	}
	// The ten currencies traded most (BIS Triennial Survey 2022; from memory).
	for _, code := range []string{"USD", "EUR", "JPY", "GBP", "CNY", "AUD", "CAD", "CHF", "HKD", "SGD", "NOK", "MXN"} {
		if !slices.Contains(money.Codes(), code) {
			t.Errorf("%s is missing", code)
		}
	}
}

func TestNoCurrency(t *testing.T) {
	for _, text := range []string{"", "usd", "XAU", "USDX", "US", "A B"} {
		var c money.Currency
		err := c.UnmarshalText([]byte(text))
		var hinted interface{ Hint() string }
		if err == nil || !errors.As(err, &hinted) || hinted.Hint() == "" {
			t.Errorf("%q is taken, or refused without saying what is right: %v", text, err)
		}
	}
}
