package price

import (
	"strconv"
	"strings"

	"stallwright/engine/document"
	"stallwright/engine/fit"
	"stallwright/engine/measure"
	"stallwright/engine/money"
	"stallwright/engine/phrase"
)

// named is a value that stands as it is in every language.
func named(key, v string) phrase.Arg { return phrase.With(key, phrase.Name(v)) }

// within is a phrase in a phrase.
func within(key string, v phrase.Phrase) phrase.Arg { return phrase.With(key, v) }

func number(key string, n int64) phrase.Arg { return named(key, strconv.FormatInt(n, 10)) }

// show writes an amount with its currency.
func (m *maker) show(a money.Amount) phrase.Value { return phrase.Name(m.amount(a)) }

func (m *maker) amount(a money.Amount) string {
	return m.b.Currency.Text(a) + " " + string(m.b.Currency)
}

// source names a place in the book.
func (m *maker) source(pos document.Pos) phrase.Phrase {
	return phrase.Of("offer.source-book", named("book", m.b.Prices), named("at", pos.String()))
}

// massOf is a mass as loaders read it.
func (m *maker) massOf(key string, v measure.Mass) phrase.Arg {
	return phrase.With(key, phrase.Mass(v))
}

// sides are what the sides of a rounding are called.
var sides = map[money.Side]string{money.Nearest: "offer.side-nearest", money.Even: "offer.side-even", money.Customer: "offer.side-customer", money.Shop: "offer.side-shop"}

func sideOf(s money.Side) phrase.Arg {
	key, ok := sides[s]
	if !ok {
		key = sides[money.Nearest]
	}
	return within("side", phrase.Of(key))
}

// kindNames are what the kinds are called.
var kindNames = map[Kind]string{Lumber: "offer.kind-lumber", Parts: "offer.kind-parts", Work: "offer.kind-work", Freight: "offer.kind-delivery", Rounded: "offer.rounding"}

// what is what a line is of, for reasons.
func (m *maker) what(l *Line) phrase.Phrase {
	what := phrase.Of("kind.name", named("name", l.Name))
	switch l.Kind {
	case Work:
		what = phrase.Of("offer.work-of", named("trade", l.Name))
	case Freight:
		what = phrase.Of("offer.delivery")
	case Parts:
		what = m.Kit.Called(l.Item, l.Name)
	case Lumber:
		if size, ok := strings.CutSuffix(l.Name, " tongue and groove"); ok && l.Item == fit.Lumber {
			what = phrase.Of("kind.lumber", named("size", size))
		}
		if l.Treated {
			what = phrase.Of("offer.treated", within("what", what))
		}
	}
	if l.Length > 0 {
		what = phrase.Of("offer.what-length", within("what", what), phrase.With("length", phrase.Length(l.Length)))
	}
	return what
}
