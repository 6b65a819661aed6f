package views

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"

	"stallwright/engine/fit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/plan"
	"stallwright/paper/draw"
	"stallwright/paper/words"
)

// What title blocks say of a sheet's state.
const (
	notMeasured = "views.state-not-measured"
	notAll      = "views.state-not-all"
)

// least says of a sheet whose bays are all at least this far what it may be used
// for.
var least = map[fit.State]string{
	fit.Measured: "views.state-measured", fit.Released: "views.state-released",
	fit.Cut: "views.state-cut", fit.Loaded: "views.state-loaded",
}

// say is a message in the sheet's language.
func (t *tables) say(key string, args ...phrase.Arg) string { return t.words.Text(key, args...) }

// Arguments of messages.
func name(as, s string) phrase.Arg                { return phrase.With(as, phrase.Name(s)) }
func number(as string, n int) phrase.Arg          { return phrase.With(as, phrase.Count(n)) }
func size(as string, l measure.Length) phrase.Arg { return phrase.With(as, phrase.Length(l)) }

// item names what the kit calls a thing.
func (t *tables) item(as, id, called string) phrase.Arg {
	return phrase.With(as, words.Item(t.Kit.Kit, id, called))
}

// wording is what the sheets themselves say.
func wording(w *words.Words) draw.Wording {
	return draw.Wording{
		Job: w.Text("views.job"), Title: w.Text("views.title"), Date: w.Text("views.date"), Revision: w.Text("views.revision"),
		State: w.Text("views.state"), Sheet: w.Text("views.sheet"), Scale: w.Text("views.scale"), ScaleUnit: w.Text("views.scale-unit"),
		AsShown: w.Text("views.as-shown"), NotToScale: w.Text("views.not-to-scale"), FullSize: w.Text("views.full-size"), HalfSize: w.Text("views.half-size"),
		Notes: w.Text("views.notes"), Key: w.Text("views.key"), Note: w.Text("views.note"),
		Of: func(n, of int) string { return w.Text("views.of", number("number", n), number("of", of)) },
		SheetOf: func(n, of int) string {
			if of <= 0 {
				return w.Text("views.sheet-number", number("number", n))
			}
			return w.Text("views.sheet-of", number("number", n), number("of", of))
		},
	}
}

// jobLine is the job and the farm in one line.
func jobLine(p *plan.Plan) string {
	j, f := strings.TrimSpace(p.Job.Job), strings.TrimSpace(p.Job.Farm.Name)
	words := strings.Fields(f)
	if len(words) > 1 {
		words = words[:len(words)-1] // Farm, Stables, Ranch
	}
	if strings.HasPrefix(j, strings.Join(words, " ")) {
		return j // the job says whose it is
	}
	return j + " – " + f
}

func revision(p *plan.Plan) string {
	if p.Job.Revision == 0 {
		return ""
	}
	return strconv.Itoa(p.Job.Revision)
}

// stateOf is what a sheet that shows these bays says of itself, and which of
// them are not measured. Doors come made and open bays hold nothing to cut.
func (t *tables) stateOf(bays []int) (string, []string) {
	p := t.Plan
	var drawn []string
	filled := 0
	state := fit.Loaded
	for _, v := range bays {
		b := &p.Layout.Bays[v]
		if b.IsDoor() || b.IsOpen() {
			continue
		}
		filled++
		if f := p.Fit.Bays[v].State; f.Order() < state.Order() {
			state = f
		}
		if p.Fit.Bays[v].State == fit.Drawn {
			drawn = append(drawn, b.Name)
		}
	}
	switch {
	case filled == 0:
		return "", nil
	case len(drawn) == filled:
		return t.say(notMeasured), drawn
	case len(drawn) > 0:
		return t.say(notAll), drawn
	}
	return t.say(least[state]), nil
}

// courseRange is the name of one or several courses: c4, c1–c9.
func courseRange(from, to int) string {
	if from == to {
		return fmt.Sprintf("c%d", from)
	}
	return fmt.Sprintf("c%d–c%d", from, to)
}

// degrees writes an angle to two decimals, as a square or a digital level
// shows it.
func (t *tables) degrees(a measure.Angle) string {
	hundredths := (int64(a)*100 + int64(measure.Degree)/2) / int64(measure.Degree)
	switch {
	case hundredths%100 == 0:
		return t.words.Count(hundredths/100) + "°"
	case hundredths%10 == 0:
		return t.words.Decimal(hundredths/10, 1) + "°"
	}
	return t.words.Decimal(hundredths, 2) + "°"
}

const longestName = 60

// fileNames makes the sheets' names safe and different: letters, digits and
// single hyphens, also where case does not count.
func fileNames(plans []sheetPlan) []string {
	out := make([]string, len(plans))
	taken := map[string]bool{}
	for i := range plans {
		base := safeName(plans[i].name)
		name := base
		for n := 2; taken[strings.ToLower(name)]; n++ {
			name = base + "-" + strconv.Itoa(n)
		}
		taken[strings.ToLower(name)] = true
		out[i] = name
	}
	return out
}

// safeName keeps ASCII letters and digits and puts one hyphen for any run of
// others.
func safeName(s string) string {
	var b strings.Builder
	gap := false
	for _, r := range s {
		if r > unicode.MaxASCII || !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			gap = b.Len() > 0
			continue
		}
		if gap {
			b.WriteByte('-')
			gap = false
		}
		b.WriteRune(r)
		if b.Len() >= longestName {
			break
		}
	}
	if b.Len() == 0 {
		return "sheet"
	}
	return b.String()
}
