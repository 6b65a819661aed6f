package fit_test

import (
	"strings"
	"testing"

	"stallwright/engine/finding"
)

// A pipe in the channel at a bay's left end, in the bottom tube of a front, or in its
// top tube stands where steel must; one between them does not, nor a girt that runs
// on past the bay. By hand: the channel is 1 1/2 in deep; the datum is 2 in over the
// floor, and the tube's height lies under it.
func TestSteelIsInTheWay(t *testing.T) {
	pipe := "{bay: A1-back, what: pipe, left: %s, width: 2 in, above_datum: 20 in, height: 2 in}"
	at := func(left string) string { return strings.Replace(pipe, "%s", left, 1) }
	crossed(t, at("1 in")).tells(finding.ObstructionMeets, finding.Error, "A1-back", "a pipe", "stands where the steel at A.")
	crossed(t, at("1 1/2 in")).silent(finding.ObstructionMeets, "A1-back")
	crossed(t, at("136 in")).tells(finding.ObstructionMeets, finding.Error, "A1-back", "stands where the steel at A.")
	crossed(t, "{bay: A1-back, what: girt, left: 0 in, above_datum: 20 in, height: 2 in, face: back, into: 1/2 in}").silent(finding.ObstructionMeets, "A1-back")
	front := "{bay: A1-front-right, what: pipe, left: 10 in, width: 2 in, "
	crossed(t, front+"above_floor: 1 in, height: 1/2 in}").tells(finding.ObstructionMeets, finding.Error, "A1-front-right", "stands where the bottom tube of A1-front does")
	crossed(t, front+"above_floor: 30 in, height: 90 in}").tells(finding.ObstructionMeets, finding.Error, "A1-front-right", "stands where the top tube of A1-front does")
	crossed(t, front+"above_floor: 30 in, height: 2 in}").silent(finding.ObstructionMeets, "A1-front-right")
}
