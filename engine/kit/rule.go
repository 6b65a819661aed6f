package kit

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/vm"

	"stallwright/engine/document"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// Rule is a small typed expression of a kit: a length, a count or a condition
// worked out from what is known at the place where it is used. Lengths and
// counts do not mix: a length times a length, or a length divided by a length,
// is refused when the kit is read. An empty rule has not been written.
//
//	clear - end_play                     a length
//	up(clear, L("24 in")) * 2            a count
//	structure == "pen" && !door          a condition
//
// L("…") reads a length as a tape is read; up(a, b) and down(a, b) divide two
// lengths or two counts, rounding up or down; least and most take the smaller
// and the larger of two.
type Rule struct {
	text string
	prog *vm.Program
}

// FromScalar takes the rule's text; it is compiled when the whole kit is known.
func (r *Rule) FromScalar(text string) error {
	r.text = strings.TrimSpace(text)
	if r.text == "" {
		return errors.New("an empty rule; write a number or an expression")
	}
	if len(r.text) > maxRule {
		r.text = ""
		return fmt.Errorf("a rule of more than %d characters", maxRule)
	}
	return nil
}

// Describe tells the schema what a rule looks like.
func (Rule) Describe() document.Description {
	return document.Description{
		Doc:      "a small typed expression over what is known at that place, such as clear - end_play",
		Examples: []string{"4", "clear - end_play", `up(clear, L("24 in"))`, `structure == "pen"`},
	}
}

// String is the rule as written.
func (r Rule) String() string { return r.text }

// Say is the rule as its file writes it, for reasons.
func (r Rule) Say() phrase.Phrase {
	if r.text == "" {
		return phrase.Phrase{}
	}
	return phrase.Of("rule.formula", phrase.With("formula", phrase.Formula(r.text)))
}

// Written says whether the kit states the rule at all.
func (r Rule) Written() bool { return r.text != "" }

// length is a length inside rules. It is a struct so that the expression
// library's own integer arithmetic can never apply to it.
type length struct{ nm int64 }

// Facts is what may be known where a rule is used. Which facts a rule may name
// depends on where it stands; naming another is refused when the kit is read.
type Facts struct {
	Structure string // pen, barn-row, free-row, free-barn, free-form
	Wall      string // front, back, side, divider, section, gate
	Fill      string // boards, grille, window, feeder, door, open
	Door      bool   // the frame or bay has a door
	Clamped   bool   // the wall is clamped, not screwed
	Courses   int    // courses of boards in the bay
	Bays      int    // bays in the frame
	Panels    int    // filled bays in the frame
	Qty       int    // quantity needed, for spares

	Clear   measure.Length // clear width of the run or bay
	Centres measure.Length // between the axes of its posts
	Height  measure.Length // nominal wall height
	Datum   measure.Length // underside of the first board above the finished floor
	Zone    measure.Length // room for boards above the datum
	EndPlay measure.Length // kit's board.end_play
	Opening measure.Length // clear door opening
	Leaf    measure.Length // door leaf width
	Post    measure.Length // the steel post's size across the joint
	Tube    measure.Length // the tube's outside width
	Plate   measure.Length // the bracket's plate thickness
	Web     measure.Length // the channel's web thickness
	Board   measure.Length // board thickness
}

// facts is Facts as the expression library sees them.
type facts struct {
	Structure string `expr:"structure"`
	Wall      string `expr:"wall"`
	Fill      string `expr:"fill"`
	Door      bool   `expr:"door"`
	Clamped   bool   `expr:"clamped"`
	Courses   int    `expr:"courses"`
	Bays      int    `expr:"bays"`
	Panels    int    `expr:"panels"`
	Qty       int    `expr:"quantity"`
	Clear     length `expr:"clear"`
	Centres   length `expr:"centres"`
	Height    length `expr:"height"`
	Datum     length `expr:"datum"`
	Zone      length `expr:"zone"`
	EndPlay   length `expr:"end_play"`
	Opening   length `expr:"opening"`
	Leaf      length `expr:"leaf"`
	Post      length `expr:"post"`
	Tube      length `expr:"tube"`
	Plate     length `expr:"plate"`
	Web       length `expr:"web"`
	Board     length `expr:"board"`
}

func (f *Facts) env() facts {
	n := func(l measure.Length) length { return length{int64(l)} }
	return facts{
		Structure: f.Structure, Wall: f.Wall, Fill: f.Fill, Door: f.Door, Clamped: f.Clamped,
		Courses: f.Courses, Bays: f.Bays, Panels: f.Panels, Qty: f.Qty,
		Clear: n(f.Clear), Centres: n(f.Centres), Height: n(f.Height), Datum: n(f.Datum), Zone: n(f.Zone),
		EndPlay: n(f.EndPlay), Opening: n(f.Opening), Leaf: n(f.Leaf), Post: n(f.Post), Tube: n(f.Tube),
		Plate: n(f.Plate), Web: n(f.Web), Board: n(f.Board),
	}
}

// want is what a rule must come to.
type want uint8

const (
	wantCount want = iota
	wantLength
	wantTruth
)

func (w want) String() string { return [...]string{"a count", "a length", "true or false"}[w] }

// maxRule is the longest rule, in bytes: a long one cannot be checked by eye, and
// nested without end it would tie up the expression library.
const maxRule = 400

// maxCount is the largest count a rule may come to; beyond it a rule is wrong.
const maxCount = 1_000_000

// names collects the facts an expression speaks of.
type names struct{ used []string }

func (n *names) Visit(node *ast.Node) {
	if id, ok := (*node).(*ast.IdentifierNode); ok && !slices.Contains(n.used, id.Value) {
		n.used = append(n.used, id.Value)
	}
}

// literals finds lengths written in the expression that cannot be read, and
// numbers that are no counts.
type literals struct{ err error }

func (l *literals) Visit(node *ast.Node) {
	if n, ok := (*node).(*ast.IntegerNode); ok && (n.Value > maxCount || n.Value < -maxCount) {
		l.err = errCount
		return
	}
	call, ok := (*node).(*ast.CallNode)
	if !ok || len(call.Arguments) != 1 {
		return
	}
	if id, ok := call.Callee.(*ast.IdentifierNode); !ok || id.Value != "L" {
		return
	}
	s, ok := call.Arguments[0].(*ast.StringNode)
	if !ok {
		l.err = errors.New(`a length goes in quotes, as in L("2 3/4 in")`)
		return
	}
	if _, err := measure.ParseLength(s.Value, measure.NoUnit); err != nil {
		l.err = err
	}
}

// functions are the callable names; they are not facts.
var functions = []string{"L", "up", "down", "least", "most", "add", "sub", "mulLI", "mulIL", "divLI", "addII", "subII", "mulII", "lt", "le", "gt", "ge"}

// compile checks the rule's types and that it names only the given facts.
func (r *Rule) compile(w want, known []string) error {
	var used names
	var lits literals
	opts := append(options(), expr.Patch(&used), expr.Patch(&lits))
	prog, err := expr.Compile(r.text, opts...)
	if err != nil {
		var fe *file.Error
		if errors.As(err, &fe) {
			msg := fe.Message
			if fe.Column > 0 {
				msg += fmt.Sprintf(" (at character %d of the rule)", fe.Column+1)
			}
			return errors.New(msg)
		}
		return err
	}
	if lits.err != nil {
		return lits.err
	}
	for _, u := range used.used {
		if slices.Contains(functions, u) || slices.Contains(known, u) {
			continue
		}
		return fmt.Errorf("%q is not known here; known here: %s", u, strings.Join(known, ", "))
	}
	t := prog.Node().Type()
	ok := false
	switch w {
	case wantCount:
		ok = t.Kind() == reflect.Int
	case wantLength:
		ok = t == reflect.TypeFor[length]()
	case wantTruth:
		ok = t.Kind() == reflect.Bool
	}
	if !ok {
		hint := ""
		if t.Kind() == reflect.Float64 {
			hint = "; to divide and stay whole, write up(a, b) or down(a, b)"
		}
		return fmt.Errorf("the rule must come to %s, but comes to %s%s", w, typeWord(t), hint)
	}
	r.prog = prog
	return nil
}

func typeWord(t reflect.Type) string {
	switch {
	case t == reflect.TypeFor[length]():
		return "a length"
	case t.Kind() == reflect.Int:
		return "a count"
	case t.Kind() == reflect.Bool:
		return "true or false"
	case t.Kind() == reflect.String:
		return "text"
	case t.Kind() == reflect.Float64:
		return "a broken number"
	}
	return t.String()
}

func (r Rule) run(f *Facts) (any, error) {
	if r.prog == nil {
		return nil, fmt.Errorf("rule %q was not read with a kit", r.text)
	}
	v, err := expr.Run(r.prog, f.env())
	if err != nil {
		var fe *file.Error
		if errors.As(err, &fe) {
			return nil, fmt.Errorf("rule %q: %s", r.text, fe.Message)
		}
		return nil, fmt.Errorf("rule %q: %w", r.text, err)
	}
	return v, nil
}

// Count is what a count rule comes to; never negative.
func (r Rule) Count(f *Facts) (int, error) {
	v, err := r.run(f)
	if err != nil {
		return 0, err
	}
	n, ok := v.(int)
	if !ok || n < 0 || n > maxCount {
		return 0, fmt.Errorf("rule %q comes to %v, which is no count", r.text, v)
	}
	return n, nil
}

// Length is what a length rule comes to.
func (r Rule) Length(f *Facts) (measure.Length, error) {
	v, err := r.run(f)
	if err != nil {
		return 0, err
	}
	l, ok := v.(length)
	if !ok {
		return 0, fmt.Errorf("rule %q comes to %v, which is no length", r.text, v)
	}
	return measure.Length(l.nm), nil
}

// Holds is what a condition comes to; a condition not written holds.
func (r Rule) Holds(f *Facts) (bool, error) {
	if !r.Written() {
		return true, nil
	}
	v, err := r.run(f)
	if err != nil {
		return false, err
	}
	b, ok := v.(bool)
	if !ok {
		return false, fmt.Errorf("rule %q comes to %v, not to true or false", r.text, v)
	}
	return b, nil
}
