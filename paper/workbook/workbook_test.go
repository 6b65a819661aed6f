package workbook_test

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"stallwright/checks"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/engine/plan/plantest"
	"stallwright/paper/words"
	"stallwright/paper/workbook"
)

func made(t testing.TB, p *plan.Plan, language string) []byte {
	t.Helper()
	w, err := words.For(language, p.Job.Units)
	if err != nil {
		t.Fatal(err)
	}
	data, err := workbook.Make(p, w, workbook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// book is a workbook's sheets as LibreOffice calculates and shows them.
type book struct{ takeoff, cutList, pieces [][]string }

// calculated has LibreOffice open workbooks without the values kept for their
// formulas, so that what it shows it has worked out itself.
func calculated(t testing.TB, files map[string][]byte) map[string]*book {
	t.Helper()
	bare := map[string][]byte{}
	for name, data := range files {
		bare[name+".xlsx"] = withoutValues(t, data)
	}
	// The last of the filter's options asks for all sheets, a file each
	// (LibreOffice, Filter Options for CSV, token 12).
	made := checks.Convert(t, bare, "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1")
	out := map[string]*book{}
	for _, path := range made {
		f, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		r := csv.NewReader(bytes.NewReader(f))
		r.FieldsPerRecord = -1
		rows, err := r.ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		name, sheet, _ := strings.Cut(strings.TrimSuffix(filepath.Base(path), ".csv"), "-")
		if out[name] == nil {
			out[name] = &book{}
		}
		switch sheet {
		case "Take-off":
			out[name].takeoff = rows
		case "Cut list":
			out[name].cutList = rows
		case "Pieces":
			out[name].pieces = rows
		default:
			t.Fatalf("a sheet %q", sheet)
		}
	}
	return out
}

var kept = regexp.MustCompile(`</f><v>[^<]*</v>`)

func withoutValues(t testing.TB, data []byte) []byte {
	t.Helper()
	in, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var buf bytes.Buffer
	out := zip.NewWriter(&buf)
	formulas := 0
	for _, f := range in.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		part, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		formulas += len(kept.FindAll(part, -1))
		w, err := out.Create(f.Name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write(kept.ReplaceAll(part, []byte("</f>"))); err != nil {
			t.Fatal(err)
		}
	}
	if err := out.Close(); err != nil {
		t.Fatal(err)
	}
	if formulas < 10 {
		t.Fatalf("%d formulas with kept values", formulas)
	}
	return buf.Bytes()
}

func number(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatalf("%q is not a number", s)
	}
	return v
}

// total is the value in a sheet's last row.
func total(t testing.TB, rows [][]string, column int) float64 {
	t.Helper()
	return number(t, rows[len(rows)-1][column])
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Max(1, math.Abs(b)) }

func TestAnotherProgramCalculates(t *testing.T) {
	feet, metric := plantest.File(t, "../../examples/three-meadows.yaml"), plantest.File(t, "../../examples/nordlia-free-barn.yaml")
	odd := plantest.File(t, "../../examples/two-oaks-free-row.yaml")
	odd.Takeoff.Lines[0].Name = "=1+1"
	odd.Job.Job = "A & B's: [barn]"
	f, err := excelize.OpenReader(bytes.NewReader(made(t, feet, "en")))
	if err != nil {
		t.Fatal(err)
	}
	if err := f.SetCellInt("Take-off", "I6", int64(feet.Takeoff.Lines[0].Spares)+7); err != nil {
		t.Fatal(err)
	}
	var changed bytes.Buffer
	if err := f.Write(&changed); err != nil {
		t.Fatal(err)
	}
	books := calculated(t, map[string][]byte{"feet": made(t, feet, "en"), "metric": made(t, metric, "en"), "odd": made(t, odd, "en"), "changed": changed.Bytes()})

	t.Run("the plan's totals in feet", func(t *testing.T) { checkTotals(t, feet, books["feet"]) })
	t.Run("the plan's totals in millimetres", func(t *testing.T) { checkTotals(t, metric, books["metric"]) })
	t.Run("a changed count changes the totals", func(t *testing.T) {
		before, after := books["feet"].takeoff, books["changed"].takeoff
		if got := total(t, after, 9) - total(t, before, 9); got != 7 {
			t.Errorf("seven spares more raise the order by %v", got)
		}
		each := number(t, before[5][10])
		if got := total(t, after, 11) - total(t, before, 11); math.Abs(got-7*each) > 1e-6 {
			t.Errorf("seven spares of %v each raise the mass by %v", each, got)
		}
	})
	t.Run("names that begin like a formula stay text", func(t *testing.T) {
		if got := books["odd"].takeoff; got[5][2] != "=1+1" || !strings.HasPrefix(got[0][0], "A & B's: [barn]") {
			t.Errorf("%q, %q", got[5][2], got[0][0])
		}
	})
}

func checkTotals(t *testing.T, p *plan.Plan, b *book) {
	t.Helper()
	mass := float64(p.Takeoff.Mass) / float64(measure.Pound)
	perRun := float64(measure.Foot)
	if p.Job.Units == measure.Metric {
		mass, perRun = float64(p.Takeoff.Mass)/float64(measure.Kilogram), float64(measure.Metre)
	}
	buy, spares, order := 0, 0, 0
	for _, l := range p.Takeoff.Lines {
		buy, spares, order = buy+l.Buy, spares+l.Spares, order+l.Order
	}
	if len(b.takeoff) != 5+len(p.Takeoff.Lines)+1 {
		t.Errorf("%d rows of take-off for %d lines", len(b.takeoff), len(p.Takeoff.Lines))
	}
	for k, want := range map[int]float64{7: float64(buy), 8: float64(spares), 9: float64(order), 11: mass} {
		if got := total(t, b.takeoff, k); !near(got, want) {
			t.Errorf("column %d adds up to %v, the plan to %v", k, got, want)
		}
	}
	cut, length := 0, 0.0
	for _, v := range p.Fit.Pieces {
		if v.Cut {
			cut++
			length += float64(v.Length) / perRun
		}
	}
	if got := total(t, b.cutList, 5); got != float64(cut) {
		t.Errorf("%v cut pieces, the plan has %d", got, cut)
	}
	if got := total(t, b.cutList, 6); !near(got, length) {
		t.Errorf("%v of length to cut, the plan has %v", got, length)
	}
	if got := total(t, b.pieces, 10); got != float64(len(p.Fit.Pieces)) {
		t.Errorf("%v pieces, the plan has %d", got, len(p.Fit.Pieces))
	}
}

// A reader that does not calculate shows the kept values.
func TestKeptValuesAreNumbers(t *testing.T) {
	p := plantest.File(t, "../../examples/two-oaks-free-row.yaml")
	f, err := excelize.OpenReader(bytes.NewReader(made(t, p, "en")))
	if err != nil {
		t.Fatal(err)
	}
	at := "J6"
	kind, err := f.GetCellType("Take-off", at)
	if err != nil || kind != excelize.CellTypeUnset && kind != excelize.CellTypeNumber {
		t.Errorf("%s is of type %v, %v", at, kind, err)
	}
	got, err := f.GetCellValue("Take-off", at, excelize.Options{RawCellValue: true})
	if want := strconv.Itoa(p.Takeoff.Lines[0].Order); err != nil || got != want {
		t.Errorf("%s keeps %q, want %s, %v", at, got, want, err)
	}
	formula, err := f.GetCellFormula("Take-off", at)
	if err != nil || formula != "H6+I6" {
		t.Errorf("%s is %q, %v", at, formula, err)
	}
}

func TestTheSamePlanGivesTheSameBytes(t *testing.T) {
	p := plantest.File(t, "../../examples/stone-ford-mixed.yaml")
	if !bytes.Equal(made(t, p, "es"), made(t, p, "es")) {
		t.Error("two workbooks of one plan differ")
	}
}
