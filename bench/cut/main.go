// Command cut measures the cut plan on published and generated instances.
//
//	go run ./bench/cut -set falkenauer -data ../shared/data
package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"maps"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"runtime/pprof"
	"slices"
	"sort"
	"strings"

	"stallwright/engine/cut/instances"
	"stallwright/engine/cut/search"
)

func main() {
	set := flag.String("set", "job", "falkenauer, hard28, scholl1, scholl2, scholl3, schwerin, waescher, several, job, showground")
	data := flag.String("data", dataFolder(), "folder that holds onedim/ (default $STALLWRIGHT_DATA, else ../shared/data)")
	n := flag.Int("n", 1000, "instances of a generated set")
	from := flag.Int("from", 1, "first seed of a generated set")
	budget := flag.Int64("budget", 0, "work budget of one instance")
	only := flag.String("only", "", "names to run, a regular expression")
	each := flag.Bool("v", false, "a line for each instance")
	rivals := flag.Int("against", 0, "compare with glpsol and cbc, which get this many seconds each; only instances with few enough patterns")
	repeat := flag.Int("repeat", 1, "run each instance so often and count its least time")
	profile := flag.String("profile", "", "write a processor profile to this file")
	flag.Parse()
	if *profile != "" {
		f, err := os.Create(*profile)
		if err != nil {
			fmt.Fprintln(os.Stderr, "cut bench:", err)
			os.Exit(1)
		}
		defer f.Close()
		if err := pprof.StartCPUProfile(f); err != nil {
			fmt.Fprintln(os.Stderr, "cut bench:", err)
			os.Exit(1)
		}
		defer pprof.StopCPUProfile()
	}
	if *rivals > 0 {
		classes, err := load(*set, *data, *n, *from)
		if err == nil {
			var list []instances.Named
			for _, c := range slices.Sorted(maps.Keys(classes)) {
				list = append(list, classes[c]...)
			}
			err = against(list, *rivals)
		}
		if err != nil {
			fmt.Fprintln(os.Stderr, "cut bench:", err)
			os.Exit(1)
		}
		return
	}
	if err := run(*set, *data, *n, *from, *budget, *repeat, *only, *each); err != nil {
		fmt.Fprintln(os.Stderr, "cut bench:", err)
		os.Exit(1)
	}
}

// dataFolder is where the published instances lie: where the environment says, or
// beside the repository.
func dataFolder() string {
	if d := os.Getenv("STALLWRIGHT_DATA"); d != "" {
		return d
	}
	return filepath.Join("..", "shared", "data")
}

// load gathers the instances of a set by class.
func load(set, data string, n, from int) (map[string][]instances.Named, error) {
	dir := filepath.Join(data, "onedim")
	out := map[string][]instances.Named{}
	read := func(class, path string, f func([]byte) ([]instances.Named, error)) error {
		b, err := os.ReadFile(filepath.Join(dir, path))
		if errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("the published instances are not in %s; name the folder that holds onedim/ by -data or STALLWRIGHT_DATA", data)
		}
		if err != nil {
			return err
		}
		x, err := f(b)
		if err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
		out[class] = append(out[class], x...)
		return nil
	}
	falk := func(b []byte) ([]instances.Named, error) { return instances.Falkenauer(bytes.NewReader(b)) }
	list := func(b []byte) ([]instances.Named, error) { return instances.Listed(bytes.NewReader(b)) }
	switch set {
	case "falkenauer":
		for k := uint64(1); k <= 20; k++ {
			out["u120 (recipe)"] = append(out["u120 (recipe)"], instances.Uniform(120, k))
		}
		for k, c := range []string{"u250", "u500", "u1000", "t60", "t120", "t249", "t501"} {
			if err := read(c, fmt.Sprintf("falkenauer/binpack%d.txt", k+2), falk); err != nil {
				return nil, err
			}
		}
	case "hard28":
		return out, read("hard28", "hard28/hard28", list)
	case "scholl1", "scholl2", "scholl3":
		return out, read(set, "scholl/bin"+set[6:]+"data.zip", instances.Scholl)
	case "schwerin":
		if err := read("schwerin1", "schwerin/SCH_WAE1.BPP", list); err != nil {
			return nil, err
		}
		return out, read("schwerin2", "schwerin/SCH_WAE2.BPP", list)
	case "waescher":
		if err := read("waescher", "waescher/WAE_GAU1.BPP", list); err != nil {
			return nil, err
		}
		return out, read("waescher", "waescher/WAE_GAU2.BPP", list)
	case "several":
		for _, st := range [][]int64{{100, 120, 150}, {60, 80, 100, 120, 150}} {
			for _, least := range []int64{1, 20, 50} {
				for _, k := range []int{25, 50, 100, 200, 500} {
					for seed := uint64(1); seed <= 10; seed++ {
						c := fmt.Sprintf("several %d stocks", len(st))
						out[c] = append(out[c], instances.SeveralStocks(k, least, st, seed))
					}
				}
			}
		}
	case "job":
		for k := 0; k < n; k++ {
			out["job"] = append(out["job"], instances.Job(uint64(from+k)))
		}
	case "showground":
		out["showground"] = []instances.Named{instances.ShowGround(500, 30000, 1)}
	default:
		return nil, fmt.Errorf("no set %q", set)
	}
	return out, nil
}

func run(set, data string, n, from int, budget int64, repeat int, only string, each bool) error {
	classes, err := load(set, data, n, from)
	if err != nil {
		return err
	}
	pick, err := regexp.Compile(only)
	if err != nil {
		return err
	}
	var names []string
	for c := range classes {
		names = append(names, c)
	}
	sort.Strings(names)
	for _, c := range names {
		var times []float64
		proven := 0
		work := int64(0)
		var open []string
		worstGap := 0.0
		for _, x := range classes[c] {
			if !pick.MatchString(x.Name) {
				continue
			}
			var r search.Result
			t := math.Inf(1)
			for range max(1, repeat) {
				start := processorTime()
				r = search.Solve(context.Background(), &x.Instance, search.Options{Budget: budget})
				search.Polish(&x.Instance, r.Runs, nil) // as every plan is
				t = min(t, (processorTime() - start).Seconds())
			}
			times = append(times, t)
			work += r.Work
			if r.Proven {
				proven++
			} else {
				open = append(open, fmt.Sprintf("%s(%d..%d)", x.Name, r.Bound, r.Cost))
				worstGap = max(worstGap, float64(r.Cost-r.Bound)/float64(max(1, r.Cost)))
			}
			if each {
				fmt.Printf("%-24s m=%-4d cost=%d bound=%d proven=%v nodes=%d work=%dM %.4fs\n",
					x.Name, len(x.Len), r.Cost, r.Bound, r.Proven, r.Nodes, r.Work/1e6, t)
			}
		}
		if len(times) == 0 {
			continue
		}
		sum := 0.0
		for _, t := range times {
			sum += t
		}
		sort.Float64s(times)
		fmt.Printf("%-20s %d of %d proven, mean %.4fs median %.4fs 99%% %.4fs worst %.4fs, largest gap %.4f%%, mean work %d\n", c, proven, len(times),
			sum/float64(len(times)), times[len(times)/2], times[len(times)*99/100], times[len(times)-1], 100*worstGap, work/int64(len(times)))
		if len(open) > 0 {
			fmt.Println("  open:", strings.Join(open, " "))
		}
	}
	return nil
}
