package fit_test

import (
	"os"
	"strings"
	"testing"

	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
)

const in = measure.Inch

// fitted is a job framed and fitted.
type fitted struct {
	t   *testing.T
	lay *frame.Layout
	fit *fit.Result
}

// barn is one stall with a sliding door at the left of its front, in a wall of
// 96 in: posts 12 ft apart and 5 1/2 in thick, boards of 5 in coverage with a
// tongue of 3/8 in. Datum and the tube's underside leave a zone of 92 in.
const barn = `job: barn
units: feet
kit: check
farm: {name: Farm}
lumber: {species: southern-pine, coverage: 5 in, tongue: 3/8 in, lengths: [12 ft]}
structures:
  - barn-row:
      name: A
      post: 5 1/2 in
      spacing: 12 ft
      depth: 12 ft
      rooms: [stall]
      fronts: {at: left, slides: right, panels: boards}
      sides: boards
      back: boards
`

// swaps are pairs of old and new text; those whose old text the job holds change
// the job, others the kit.
func fitWith(t *testing.T, src string, swaps ...string) *fitted {
	t.Helper()
	kitSrc, err := os.ReadFile("../plan/testdata/check.yaml")
	if err != nil {
		t.Fatal(err)
	}
	line := string(kitSrc)
	for i := 0; i < len(swaps); i += 2 {
		switch {
		case strings.Contains(src, swaps[i]):
			src = strings.Replace(src, swaps[i], swaps[i+1], 1)
		case strings.Contains(line, swaps[i]):
			line = strings.Replace(line, swaps[i], swaps[i+1], 1)
		default:
			t.Fatalf("neither job nor kit holds %q", swaps[i])
		}
	}
	k, err := kit.Read("check.yaml", []byte(line))
	if err != nil {
		t.Fatal(err)
	}
	j, err := job.Read("job.yaml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	l, err := frame.Build(j, k)
	if err != nil {
		t.Fatal(err)
	}
	return &fitted{t, l, fit.Make(j, k, l)}
}

func (f *fitted) bay(name string) *fit.BayFit {
	f.t.Helper()
	i, ok := f.lay.Bay(name)
	if !ok {
		f.t.Fatalf("no bay %q among %v", name, f.lay.BayNames())
	}
	return &f.fit.Bays[i]
}

// found says what is found of a kind at a place, and how severe it is.
func (f *fitted) found(code finding.Code, place string) (string, finding.Severity, bool) {
	for _, v := range f.fit.Findings {
		if v.Code == code && v.Place == place {
			return v.Message, v.Severity, true
		}
	}
	return "", 0, false
}

// tells asks for a finding whose message holds each of the texts.
func (f *fitted) tells(code finding.Code, severity finding.Severity, place string, parts ...string) {
	f.t.Helper()
	msg, s, ok := f.found(code, place)
	if !ok {
		f.t.Errorf("%s: no finding %s; found: %v", place, code, f.fit.Findings)
		return
	}
	if s != severity {
		f.t.Errorf("%s: %s is a %s, want a %s", place, code, s, severity)
	}
	for _, p := range parts {
		if !strings.Contains(msg, p) {
			f.t.Errorf("%s: %s says %q, without %q", place, code, msg, p)
		}
	}
}

// silent asks that a finding is not there.
func (f *fitted) silent(code finding.Code, place string) {
	f.t.Helper()
	if msg, _, ok := f.found(code, place); ok {
		f.t.Errorf("%s: unexpected %s: %s", place, code, msg)
	}
}

func same(t *testing.T, what string, got, want measure.Length) {
	t.Helper()
	if got != want {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}
