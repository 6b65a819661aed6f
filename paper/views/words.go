package views

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"

	"stallwright/engine/fit"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
)

// What title blocks say of a sheet's state.
const (
	notMeasured = "DRAWN, NOT MEASURED"
	allMeasured = "MEASURED"
	notAll      = "NOT ALL MEASURED"
)

// least says of a sheet whose bays are all at least this far what it may be used
// for.
func least(s fit.State) string {
	if s == fit.Measured {
		return allMeasured
	}
	return strings.ToUpper(string(s))
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
func stateOf(p *plan.Plan, bays []int) (string, []string) {
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
		return notMeasured, drawn
	case len(drawn) > 0:
		return notAll, drawn
	}
	return least(state), nil
}

// roomWords is what a room is for, as the plan says it.
func roomWords(k job.RoomKind) string {
	switch k {
	case job.Foaling:
		return "foaling stall"
	case job.Tack:
		return "tack room"
	case job.Feed:
		return "feed room"
	case job.Wash:
		return "wash bay"
	}
	return string(k)
}

// count is a number with its noun: 1 board, 2 boards.
func count(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + one + "s"
}

// list joins words as people do: a, b and c.
func list(words []string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
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
func degrees(a measure.Angle) string {
	hundredths := (int64(a)*100 + int64(measure.Degree)/2) / int64(measure.Degree)
	s := fmt.Sprintf("%d.%02d", hundredths/100, hundredths%100)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".") + "°"
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
