package cutfile_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"stallwright/app/cutfile"
)

const stock = "length,price,available,material\n12',9.80,,pine\n16',13.40,,pine\n6' 2\",0,1,pine\n"

func run(pieces, stock string, a cutfile.Args) (code int, out, errs string) {
	var o, e bytes.Buffer
	a.PiecesName, a.StockName = "pieces.csv", "stock.csv"
	a.Pieces, a.Stock = strings.NewReader(pieces), strings.NewReader(stock)
	code = cutfile.Run(context.Background(), a, &o, &e)
	return code, o.String(), e.String()
}

func TestPlanAsJSON(t *testing.T) {
	pieces := "length,count,label,material\n11' 6 5/8\",4,bay 1,pine\n\"5' 1/2\"\"\",3,bay 2,pine\n"
	code, out, errs := run(pieces, stock, cutfile.Args{Kerf: `1/8"`, Keep: "2'", JSON: true})
	if code != cutfile.Done || errs != "" {
		t.Fatalf("exit %d: %s", code, errs)
	}
	var d cutfile.Document
	if err := json.Unmarshal([]byte(out), &d); err != nil {
		t.Fatal(err)
	}
	// By hand: four boards of 12' for the long pieces, 39.20; of the short ones
	// one comes from the free offcut and two from one more 12' board, 9.80.
	if d.Cost != "49.00" || d.LowerBound != "49.00" || !d.Proven || d.Gap != "0" {
		t.Errorf("cost %s bound %s proven %v gap %s", d.Cost, d.LowerBound, d.Proven, d.Gap)
	}
	got := map[string]int64{}
	for _, p := range d.Patterns {
		for _, x := range p.Pieces {
			got[x.Label] += p.Times * x.Count
			if want := map[string]int64{"bay 1": 3521075000, "bay 2": 1536700000}[x.Label]; x.LengthNM != want {
				t.Errorf("%s: %d nm, want %d", x.Label, x.LengthNM, want)
			}
		}
	}
	if got["bay 1"] != 4 || got["bay 2"] != 3 {
		t.Errorf("pieces %v", got)
	}
}

func TestPlanAsTable(t *testing.T) {
	code, out, _ := run("length,count,label,material\n2000,2,a,steel\n", "length,price,available,material\n6000,30,,steel\n", cutfile.Args{Unit: "mm", Kerf: "3"})
	if code != cutfile.Done {
		t.Fatal(code)
	}
	for _, want := range []string{"Cost", "30.00", "Proven", "Ticket 1", "mark 2000 mm", "mark 4003 mm", "a"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
}

func TestBadInputIsPlaced(t *testing.T) {
	head := "length,count,label,material\n"
	ok := head + "2',1,a,pine\n"
	for name, c := range map[string]struct {
		pieces, stock string
		want          string
	}{
		"negative length":   {head + "-2',1,a,pine\n", stock, "pieces.csv:2:1: length"},
		"zero count":        {head + "2',0,a,pine\n", stock, "pieces.csv:2:4: count 0"},
		"count not whole":   {head + "2',1.5,a,pine\n", stock, "pieces.csv:2:4: count"},
		"NaN":               {head + "NaN,1,a,pine\n", stock, "pieces.csv:2:1: length"},
		"NaN price":         {ok, "length,price,available,material\n12',NaN,,pine\n", "stock.csv:2:5: price"},
		"negative price":    {ok, "length,price,available,material\n12',-4,,pine\n", "stock.csv:2:5: price"},
		"duplicate label":   {head + "2',1,a,pine\n3',1,a,pine\n", stock, "pieces.csv:3:6: label \"a\" is already on line 2"},
		"no unit":           {head + "24,1,a,pine\n", stock, "pieces.csv:2:1: length"},
		"mixed units":       {head + "2' 30 mm,1,a,pine\n", stock, "pieces.csv:2:"},
		"overflow":          {head + "99999999999999999999 mm,1,a,pine\n", stock, "pieces.csv:2:1: length"},
		"huge count":        {head + "2',99999999999999999999,a,pine\n", stock, "pieces.csv:2:4: count"},
		"wrong header":      {"len,count,label,material\n2',1,a,pine\n", stock, "pieces.csv:1:1: unknown column \"len\""},
		"missing column":    {"length,count,label\n2',1,a\n", stock, "pieces.csv:1:1: column \"material\" is missing"},
		"too few fields":    {head + "2',1\n", stock, "pieces.csv:2:1: 2 fields"},
		"empty file":        {"", stock, "pieces.csv:1:1: the file is empty"},
		"no pieces":         {head, stock, "pieces.csv:2:1: no pieces"},
		"free unlimited":    {ok, "length,price,available,material\n12',0,,pine\n", "stock.csv:2:5: an unlimited stock"},
		"fractional stock":  {ok, "length,price,available,material\n12',1,0.5,pine\n", "stock.csv:2:7: available"},
		"blank label":       {head + "2',1,,pine\n", stock, "pieces.csv:2:6: the label is blank"},
		"three decimals":    {ok, "length,price,available,material\n12',1.005,,pine\n", "stock.csv:2:5: price"},
		"too many in total": {head + "2',9000000,a,pine\n2',9000000,b,pine\n", stock, "pieces.csv:3:4: count"},
	} {
		t.Run(name, func(t *testing.T) {
			code, out, errs := run(c.pieces, c.stock, cutfile.Args{})
			if code != cutfile.BadInput || out != "" || !strings.Contains(errs, c.want) {
				t.Errorf("exit %d, output %q, errors:\n%swant %q", code, out, errs, c.want)
			}
		})
	}
}

func TestAMillionRowsAreRefused(t *testing.T) {
	var b strings.Builder
	b.WriteString("length,count,label,material\n")
	for k := 0; k < 1_000_000; k++ {
		fmt.Fprintf(&b, "2',1,%d,pine\n", k)
	}
	code, _, errs := run(b.String(), stock, cutfile.Args{})
	if code != cutfile.BadInput || !strings.Contains(errs, "pieces.csv:100002:1: more than 100000 rows") {
		t.Errorf("exit %d: %.200s", code, errs)
	}
}

func TestInfeasibleNamesThePiece(t *testing.T) {
	code, out, errs := run("length,count,label,material\n2',1,a,pine\n17',1,tie,pine\n", stock, cutfile.Args{})
	if code != cutfile.Infeasible || out != "" || !strings.Contains(errs, `pieces.csv:3:1: piece "tie" cannot be cut`) {
		t.Errorf("exit %d, output %q, errors %s", code, out, errs)
	}
	code, _, errs = run("length,count,label,material\n2',1,a,oak\n", stock, cutfile.Args{})
	if code != cutfile.Infeasible || !strings.Contains(errs, "no stock of material") {
		t.Errorf("exit %d, errors %s", code, errs)
	}
}

func TestBadFlags(t *testing.T) {
	for _, a := range []cutfile.Args{{Kerf: "-1 mm"}, {Trim: "much"}, {Keep: "3"}, {Unit: "cubit"}, {Budget: -1}} {
		if code, out, errs := run("length,count,label,material\n2',1,a,pine\n", stock, a); code != cutfile.BadInput || out != "" || errs == "" {
			t.Errorf("%+v: exit %d, output %q", a, code, out)
		}
	}
}

func TestSmallBudgetStillPlans(t *testing.T) {
	var b strings.Builder
	b.WriteString("length,count,label,material\n")
	for k := 0; k < 40; k++ {
		fmt.Fprintf(&b, "%d,%d,p%d,pine\n", 700+37*k, 3+k%5, k)
	}
	code, out, errs := run(b.String(), "length,price,available,material\n3600,9.81,,pine\n4200,11.37,,pine\n", cutfile.Args{Unit: "mm", Budget: 1, JSON: true})
	if code != cutfile.Done {
		t.Fatalf("exit %d: %s", code, errs)
	}
	var d cutfile.Document
	if err := json.Unmarshal([]byte(out), &d); err != nil {
		t.Fatal(err)
	}
	if d.Proven || !d.Stopped || d.Gap == "0" {
		t.Errorf("proven %v stopped %v gap %s on a budget of one step", d.Proven, d.Stopped, d.Gap)
	}
}
