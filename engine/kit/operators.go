package kit

import (
	"errors"
	"fmt"

	"github.com/expr-lang/expr"

	"stallwright/engine/measure"
)

var (
	errRange  = errors.New("the rule's length is beyond anything that can be built")
	errCount  = fmt.Errorf("the rule's count is over %d", maxCount)
	errDivide = errors.New("the rule divides by nothing or by less")
)

func fit(nm int64) (length, error) {
	if nm > int64(measure.MaxLength) || nm < -int64(measure.MaxLength) {
		return length{}, errRange
	}
	return length{nm}, nil
}

// scale is l·n, refused outside what can be built. Both factors are bounded
// before they are multiplied, so the product cannot overflow.
func scale(l length, n int) (length, error) {
	if n > maxCount || n < -maxCount || l.nm > int64(measure.MaxLength) || l.nm < -int64(measure.MaxLength) {
		return length{}, errRange
	}
	hi, ok := measure.MulDiv(l.nm, int64(n), 1, measure.Nearest)
	if !ok {
		return length{}, errRange
	}
	return fit(hi)
}

// whole is n as a count inside rules.
func whole(n int64) (int, error) {
	if n > maxCount || n < -maxCount {
		return 0, errCount
	}
	return int(n), nil
}

// product is a·b, refused where it is no count.
func product(a, b int) (int, error) {
	n, ok := measure.MulDiv(int64(a), int64(b), 1, measure.Nearest)
	if !ok {
		return 0, errCount
	}
	return whole(n)
}

func divide(a, b int64, up bool) (int, error) {
	if b <= 0 {
		return 0, errDivide
	}
	q := a / b
	if r := a % b; r != 0 && (r > 0) == up {
		if up {
			q++
		} else {
			q--
		}
	}
	return whole(q)
}

// operators and functions of rules. Each takes only the types it is listed
// with; every other combination is refused when the kit is read.
func options() []expr.Option {
	type L = length
	fn := func(name string, f func(p ...any) (any, error), types ...any) expr.Option {
		return expr.Function(name, f, types...)
	}
	return []expr.Option{
		expr.Env(facts{}),
		expr.DisableAllBuiltins(),
		fn("L", func(p ...any) (any, error) {
			l, err := measure.ParseLength(p[0].(string), measure.NoUnit)
			if err != nil {
				return nil, err
			}
			return length{int64(l)}, nil
		}, new(func(string) L)),
		fn("add", func(p ...any) (any, error) { return fit(p[0].(L).nm + p[1].(L).nm) }, new(func(L, L) L)),
		fn("sub", func(p ...any) (any, error) { return fit(p[0].(L).nm - p[1].(L).nm) }, new(func(L, L) L)),
		fn("mulLI", func(p ...any) (any, error) { return scale(p[0].(L), p[1].(int)) }, new(func(L, int) L)),
		fn("mulIL", func(p ...any) (any, error) { return scale(p[1].(L), p[0].(int)) }, new(func(int, L) L)),
		fn("divLI", func(p ...any) (any, error) {
			n := p[1].(int)
			if n <= 0 {
				return nil, errDivide
			}
			return length{p[0].(L).nm / int64(n)}, nil
		}, new(func(L, int) L)),
		fn("lt", func(p ...any) (any, error) { return p[0].(L).nm < p[1].(L).nm, nil }, new(func(L, L) bool)),
		fn("le", func(p ...any) (any, error) { return p[0].(L).nm <= p[1].(L).nm, nil }, new(func(L, L) bool)),
		fn("gt", func(p ...any) (any, error) { return p[0].(L).nm > p[1].(L).nm, nil }, new(func(L, L) bool)),
		fn("ge", func(p ...any) (any, error) { return p[0].(L).nm >= p[1].(L).nm, nil }, new(func(L, L) bool)),
		// Counts are reckoned in 64 bits and bounded, so that a 32-bit machine
		// comes to the same count or to the same refusal.
		fn("addII", func(p ...any) (any, error) { return whole(int64(p[0].(int)) + int64(p[1].(int))) }, new(func(int, int) int)),
		fn("subII", func(p ...any) (any, error) { return whole(int64(p[0].(int)) - int64(p[1].(int))) }, new(func(int, int) int)),
		fn("mulII", func(p ...any) (any, error) { return product(p[0].(int), p[1].(int)) }, new(func(int, int) int)),
		expr.Operator("+", "add", "addII"), expr.Operator("-", "sub", "subII"),
		expr.Operator("*", "mulLI", "mulIL", "mulII"), expr.Operator("/", "divLI"),
		expr.Operator("<", "lt"), expr.Operator("<=", "le"), expr.Operator(">", "gt"), expr.Operator(">=", "ge"),
		fn("up", func(p ...any) (any, error) { return ratio(p, true) }, new(func(L, L) int), new(func(int, int) int)),
		fn("down", func(p ...any) (any, error) { return ratio(p, false) }, new(func(L, L) int), new(func(int, int) int)),
		fn("least", func(p ...any) (any, error) { return pick(p, true), nil }, new(func(L, L) L), new(func(int, int) int)),
		fn("most", func(p ...any) (any, error) { return pick(p, false), nil }, new(func(L, L) L), new(func(int, int) int)),
	}
}

func ratio(p []any, up bool) (any, error) {
	if a, ok := p[0].(length); ok {
		return divide(a.nm, p[1].(length).nm, up)
	}
	return divide(int64(p[0].(int)), int64(p[1].(int)), up)
}

func pick(p []any, least bool) any {
	if a, ok := p[0].(length); ok {
		b := p[1].(length)
		if (a.nm < b.nm) == least {
			return a
		}
		return b
	}
	a, b := p[0].(int), p[1].(int)
	if (a < b) == least {
		return a
	}
	return b
}
