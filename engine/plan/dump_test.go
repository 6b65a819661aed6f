package plan_test

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"stallwright/engine/phrase"
	"stallwright/engine/plan"
	"stallwright/engine/reason"
)

// dump writes everything a plan holds, in one order, so that two plans can be
// compared to the last number. Parts of the kit are written by their id, reasons
// by their whole chain.
func dump(p *plan.Plan) string {
	var b strings.Builder
	seen := map[*reason.Reason]int{}
	write(&b, reflect.ValueOf(p.Layout).Elem(), seen)
	write(&b, reflect.ValueOf(p.Fit).Elem(), seen)
	write(&b, reflect.ValueOf(p.Takeoff).Elem(), seen)
	write(&b, reflect.ValueOf(p.Findings), seen)
	return b.String()
}

var reasonType = reflect.TypeFor[*reason.Reason]()

func write(b *strings.Builder, v reflect.Value, seen map[*reason.Reason]int) {
	switch v.Kind() {
	case reflect.Pointer:
		switch {
		case v.IsNil():
			b.WriteString("nil")
		case v.Type() == reasonType:
			writeReason(b, v.Interface().(*reason.Reason), seen)
		case v.Elem().Kind() == reflect.Struct && v.Elem().FieldByName("ID").IsValid():
			b.WriteString(v.Elem().Type().String() + "=" + v.Elem().FieldByName("ID").String())
		default:
			write(b, v.Elem(), seen)
		}
	case reflect.Struct:
		b.WriteString(v.Type().Name() + "{")
		for i := range v.NumField() {
			f := v.Type().Field(i)
			if !f.IsExported() || f.Name == "Where" {
				continue
			}
			b.WriteString(f.Name + ":")
			write(b, v.Field(i), seen)
			b.WriteString(" ")
		}
		b.WriteString("}\n")
	case reflect.Slice, reflect.Array:
		b.WriteString("[")
		for i := range v.Len() {
			write(b, v.Index(i), seen)
			b.WriteString(",")
		}
		b.WriteString("]")
	case reflect.Int, reflect.Int64:
		b.WriteString(strconv.FormatInt(v.Int(), 10))
	case reflect.String:
		b.WriteString(strconv.Quote(v.String()))
	default:
		fmt.Fprintf(b, "%v", v.Interface())
	}
}

// writeReason writes a chain once and later its number.
func writeReason(b *strings.Builder, r *reason.Reason, seen map[*reason.Reason]int) {
	if n, ok := seen[r]; ok {
		fmt.Fprintf(b, "reason %d", n)
		return
	}
	seen[r] = len(seen)
	fmt.Fprintf(b, "%v = %s <- %v [%v]", r.What, phrase.Plain(r.Value), r.Rule, r.Source)
	for _, f := range r.From {
		b.WriteString(" from ")
		if f != nil {
			writeReason(b, f, seen)
		}
	}
}
