package cutfile_test

import (
	"encoding/json"
	"strings"
	"testing"

	"stallwright/app/cutfile"
)

const drawn = "length,count,label,material,tolerance,opening\n" +
	"11' 11 1/2\",10,a1,pine,1\",A\n11' 11 1/2\",10,b1,pine,1\",B\n11' 11 1/2\",10,c1,pine,1\",C\n5',4,trim,pine,,\n"

const yard = "length,price,available,material,square,defects\n12',10,,pine,,5%\n14',13,,pine,,\n"

func document(t *testing.T, out string) cutfile.Document {
	t.Helper()
	var d cutfile.Document
	if err := json.Unmarshal([]byte(out), &d); err != nil {
		t.Fatal(err)
	}
	return d
}

// By hand: 30 long pieces from 12' each and 4 of trim from two more, 320.00. One
// opening longer takes 10 of 14': 350.00; all three 30 of 14' and 2 of 12', 410.00.
// 22 sound boards at 5 in a hundred bad take 24.
func TestOrderBeforeTheMeasuring(t *testing.T) {
	code, out, errs := run(drawn, yard, cutfile.Args{AtOnce: 1, JSON: true})
	if code != cutfile.Done {
		t.Fatalf("exit %d: %s", code, errs)
	}
	o := document(t, out).Order
	if o == nil || o.Openings != 3 || len(o.Choices) != 3 {
		t.Fatalf("%+v", o)
	}
	for k, want := range []string{"320.00", "350.00", "410.00"} {
		if c := o.Choices[k]; string(c.Cost) != want || !c.Proven {
			t.Errorf("choice %d: cost %s, proven %v, want %s", k, c.Cost, c.Proven, want)
		}
	}
	if c := o.Choices[1]; c.AtOnce != 1 || c.More != "30.00" || len(c.Buy) != 2 || c.Buy[0].Boards != 22 || c.Buy[0].Spares != 2 || c.Buy[1].Boards != 10 {
		t.Errorf("%+v", c)
	}
	if len(o.Drives) != 1 || strings.Join(o.Drives[0].Openings, " ") != "A B C" || o.Drives[0].Saves != "30.00" {
		t.Errorf("%+v", o.Drives)
	}
	_, out, _ = run(drawn, yard, cutfile.Args{AtOnce: 1})
	for _, want := range []string{"Order before measuring", "none (as drawn)", "all 3", "if sure of A, B, C"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
}

// Two boards were sawn: one right, one wrong with a rest of 5' 6". Opening B came
// out 1/2" longer, which no 12' holds: 10 boards of 14' must be bought, 130.00, of
// which nothing is missing elsewhere; a rest takes a trim.
func TestGoingOnAfterTheSaw(t *testing.T) {
	_, answer, _ := run(drawn, yard, cutfile.Args{JSON: true})
	measured := strings.Replace(drawn, "11' 11 1/2\",10,b1", "12' 1/2\",10,b1", 1)
	sawn := "length,count,material,pieces,left\n12',1,pine,a1,\n12',1,pine,,5' 6\"\n"
	code, out, errs := run(measured, yard, cutfile.Args{JSON: true, After: strings.NewReader(answer), Sawn: strings.NewReader(sawn)})
	if code != cutfile.Done {
		t.Fatalf("exit %d: %s", code, errs)
	}
	d := document(t, out)
	if d.Cost != "130.00" || !d.Proven || d.Order != nil {
		t.Errorf("cost %s, proven %v, order %+v", d.Cost, d.Proven, d.Order)
	}
	// 9 of A and 10 of C stay as told, and the trim.
	if d.Kept == nil || *d.Kept < 19 {
		t.Errorf("kept %v", d.Kept)
	}
	got := map[string]int64{}
	for _, p := range d.Patterns {
		for _, x := range p.Pieces {
			got[x.Label] += p.Times * x.Count
		}
	}
	for label, n := range map[string]int64{"a1": 9, "b1": 10, "c1": 10, "trim": 4} {
		if got[label] != n {
			t.Errorf("%d of %s, want %d", got[label], label, n)
		}
	}
}

func TestSawnBoardsMustHaveBeenThere(t *testing.T) {
	_, answer, _ := run(drawn, yard, cutfile.Args{JSON: true})
	head := "length,count,material,pieces,left\n"
	for name, c := range map[string]struct{ after, sawn, want string }{
		"more boards than bought": {answer, head + "14',1,pine,a1,\n", "sawn.csv:2:1: 1 boards"},
		"a piece nobody wants":    {answer, head + "12',1,pine,z9,\n", "sawn.csv:2:12: no piece of \"pine\" is called \"z9\""},
		"cut too often":           {answer, head + "12',11,pine,a1 x 11,\n", "sawn.csv:2:13: \"a1\" is cut 1 times more"},
		"a rest as long":          {answer, head + "12',1,pine,a1,12'\n", "sawn.csv:2:15: left"},
		"no plan":                 {"{", head, "old.json:1:1: this is no plan"},
		"not JSON":                {"length,count\n", head, "old.json:1:1: this is no plan"},
		"no board at all":         {`{"stock_used":[{"length_nm":-4,"count":1}]}`, head, "old.json:1:1: stock_used[0]"},
	} {
		t.Run(name, func(t *testing.T) {
			code, out, errs := run(drawn, yard, cutfile.Args{AfterName: "old.json", SawnName: "sawn.csv", After: strings.NewReader(c.after), Sawn: strings.NewReader(c.sawn)})
			if code != cutfile.BadInput || out != "" || !strings.Contains(errs, c.want) {
				t.Errorf("exit %d, errors:\n%swant %q", code, errs, c.want)
			}
		})
	}
}

// At 0.10 for each foot kept, 9' out of 12' at 5.00 leaves 3' worth 0.30.
func TestWorthOfOffcutsAndMostPieces(t *testing.T) {
	pieces, stock := "length,count,label,material\n9',1,a,pine\n", "length,price,available,material\n12',5,,pine\n"
	_, out, _ := run(pieces, stock, cutfile.Args{Keep: "2'", Worth: "0.10", Per: "1'", JSON: true})
	if d := document(t, out); d.Cost != "4.70" || !d.Proven {
		t.Errorf("cost %s, proven %v", d.Cost, d.Proven)
	}
	_, out, _ = run("length,count,label,material\n2',6,a,pine\n", stock, cutfile.Args{Most: 3, JSON: true})
	if d := document(t, out); d.Boards != 2 {
		t.Errorf("%d boards of at most 3 pieces", d.Boards)
	}
	for _, a := range []cutfile.Args{{Worth: "0.10"}, {Per: "1'"}, {Worth: "x", Per: "1'", Keep: "1'"}, {Worth: "1", Per: "1'"}, {Most: -1}, {AtOnce: -1}, {AtOnce: 2}} {
		if code, _, errs := run(pieces, stock, a); code != cutfile.BadInput || errs == "" {
			t.Errorf("%+v: exit %d", a, code)
		}
	}
}

func TestBadTolerancesAndDefects(t *testing.T) {
	for name, c := range map[string]struct{ pieces, stock, want string }{
		"negative tolerance": {"length,count,label,material,tolerance\n2',1,a,pine,-1\"\n", yard, "pieces.csv:2:13: tolerance"},
		"no unit":            {"length,count,label,material,tolerance\n2',1,a,pine,1\n", yard, "pieces.csv:2:13: tolerance"},
		"too many defects":   {drawn, "length,price,available,material,defects\n12',10,,pine,80\n", "stock.csv:2:14: defects"},
		"defects in words":   {drawn, "length,price,available,material,defects\n12',10,,pine,few\n", "stock.csv:2:14: defects"},
	} {
		if code, out, errs := run(c.pieces, c.stock, cutfile.Args{}); code != cutfile.BadInput || out != "" || !strings.Contains(errs, c.want) {
			t.Errorf("%s: exit %d, errors:\n%swant %q", name, code, errs, c.want)
		}
	}
}
