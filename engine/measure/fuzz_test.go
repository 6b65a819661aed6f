package measure_test

import (
	"errors"
	"testing"
	"unicode/utf8"

	"stallwright/engine/measure"
)

// refusal checks that an error is one a person can use.
func refusal(t *testing.T, text string, err error) {
	t.Helper()
	var e *measure.ParseError
	if !errors.As(err, &e) || e.Problem == "" || e.Offset < 0 || e.Offset > len(e.Text) || !utf8.ValidString(e.Error()) {
		t.Fatalf("%q is refused with %#v", text, err)
	}
}

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{`11' 7 5/8"`, `11'-7⅝″`, `7⁵⁄₈ in`, `3540.5 mm`, `-1/4"`, `11 feet and 7 and 5/8 inches`, `11' -7"`, `1/0"`, `5."`, `≈5"`} {
		f.Add(s, uint8(0))
	}
	f.Add("7 5/8", uint8(measure.InchUnit))
	f.Fuzz(func(t *testing.T, s string, bare uint8) {
		l, err := measure.ParseLength(s, measure.Unit(bare))
		if err != nil {
			refusal(t, s, err)
			return
		}
		if back, err := measure.ParseLength(l.String(), measure.NoUnit); err != nil || back != l {
			t.Fatalf("%q is %d nm, written %s, read as %d (%v)", s, int64(l), l, int64(back), err)
		}
	})
}

func FuzzParseMass(f *testing.F) {
	for _, s := range []string{"12 lb", "12 lb 8 oz", "12 1/2 lb", "5.4 kg", "250 g", "1 oz", "2 tons", "12 lb 16 oz"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		m, err := measure.ParseMass(s)
		if err != nil {
			refusal(t, s, err)
			return
		}
		if back, err := measure.ParseMass(m.String()); err != nil || back != m {
			t.Fatalf("%q is %d µg, written %s, read as %d (%v)", s, int64(m), m, int64(back), err)
		}
	})
}

func FuzzParseSlopeAndAngle(f *testing.F) {
	for _, s := range []string{"4:12", "4/12", "4 in 12", "2 %", "18.4°", `12° 30' 15"`, "30 mm : 1 m", "1/4 in 12"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if a, err := measure.ParseAngle(s); err != nil {
			refusal(t, s, err)
		} else if back, err := measure.ParseAngle(a.String()); err != nil || back != a {
			t.Fatalf("%q is %v, read back as %v (%v)", s, a, back, err)
		}
		v, err := measure.ParseSlope(s)
		if err != nil {
			refusal(t, s, err)
		} else if back, err := measure.ParseSlope(v.String()); err != nil || back != v {
			t.Fatalf("%q is %v, read back as %v (%v)", s, v, back, err)
		}
	})
}

// The readers that share one table-driven reader.
func FuzzParseQuantities(f *testing.F) {
	for _, s := range []string{"35 lb/ft3", "3.05 lb/ft", "144 sq ft", "8 bd ft", "305 lbf", "4.5 kN", "0.84 in²", "560 kg per cubic metre"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		quantityReadsBack(t, s, measure.ParseDensity)
		quantityReadsBack(t, s, measure.ParseMassPerLength)
		quantityReadsBack(t, s, measure.ParseArea)
		quantityReadsBack(t, s, measure.ParseVolume)
		quantityReadsBack(t, s, measure.ParseForce)
	})
}

func quantityReadsBack[T interface {
	comparable
	String() string
}](t *testing.T, s string, parse func(string) (T, error)) {
	t.Helper()
	v, err := parse(s)
	if err != nil {
		refusal(t, s, err)
		return
	}
	if back, err := parse(v.String()); err != nil || back != v {
		t.Fatalf("%q is written %s, read as %v (%v)", s, v.String(), back, err)
	}
}
