package site_test

import (
	"fmt"
	"strings"
	"testing"

	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/site"
)

// barn is the text of a barn of n stalls a row, 12 ft bays, 5 1/2 in posts.
func barn(rows string, n int, more string) string {
	aisle := ""
	if rows == "facing" {
		aisle = "      aisle: 14'\n"
	}
	return fmt.Sprintf(`job: Test barn
units: feet
kit: fernhollow
farm: {name: Test farm}
lumber: {species: southern-pine, ten_boards: 51 1/4", tongue: 3/8", lengths: [8', 12', 16']}
structures:
  - barn-row:
      name: A
      rows: %s
      post: 5 1/2 in x 5 1/2 in
      spacing: 12'
      depth: 12'
%s      rooms: [%s]
%s`, rows, aisle, strings.TrimSuffix(strings.Repeat("stall, ", n), ", "), more)
}

var fernhollow *kit.Kit

// draw reads a job and frames it as drawn.
func draw(t testing.TB, src string) (*job.Job, *kit.Kit, *frame.Layout) {
	t.Helper()
	if fernhollow == nil {
		file, text, _ := kit.Shipped("fernhollow")
		k, err := kit.Read(file, text)
		if err != nil {
			t.Fatal(err)
		}
		fernhollow = k
	}
	j, err := job.Read("job.yaml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	l, err := frame.Build(j, fernhollow)
	if err != nil {
		t.Fatal(err)
	}
	return j, fernhollow, l
}

func adjust(t testing.TB, src string) (*site.Site, *frame.Layout) {
	t.Helper()
	j, k, l := draw(t, src)
	return site.Adjust(j, k, l), l
}

// said is the findings of one code.
func said(s *site.Site, code finding.Code) []finding.Finding {
	var out []finding.Finding
	for _, f := range s.Findings {
		if f.Code == code {
			out = append(out, f)
		}
	}
	return out
}
