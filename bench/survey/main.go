// Command survey simulates barns measured with a tape in which one reading is
// wrong, and prints how often the right reading is named. The tables in
// README.md are its output.
//
//	go run ./bench/survey [-trials 500] [-seed 1]
//
// Each barn is two walls of 3 to 20 posts 12 ft apart, every post out of place
// by about 2 in, read over single and double bays, across and along both
// diagonals, with a tape good to 1/16 in + 1/5,000. Whether a blunder is one
// that should be found (greater than its smallest findable size, its residual
// correlated under 0.9 with every other) is worked out here from a dense
// singular value decomposition, apart from the engine.
package main

import (
	"flag"
	"fmt"
	"math"
	"math/rand"
	"os"
	"text/tabwriter"

	"stallwright/engine/measure"
	"stallwright/engine/survey"

	"gonum.org/v1/gonum/mat"
)

func main() {
	trials := flag.Int("trials", 500, "barns of each size")
	seed := flag.Int64("seed", 1, "seed of the simulation")
	flag.Parse()
	s := simulation{rng: rand.New(rand.NewSource(*seed))}
	for posts := 3; posts <= 20; posts++ {
		s.size(posts, 2, *trials)
	}
	scarce := simulation{rng: s.rng}
	for _, posts := range []int{4, 8, 16} {
		scarce.size(posts, 1, *trials)
	}
	s.print(scarce.byRho)
}

const (
	cutOff  = 3.29
	noncent = 3.29 + 2.3263478740408408 // and power 0.99
)

// tally counts blunders of one class.
type tally struct{ blunders, detected, named, set, alone int }

type sizeRow struct {
	posts, readings, spare     int
	good, alarms, jobs, jobsUp int
	smallest                   float64 // mean of the smallest findable blunders, in
	fair                       tally
}

type simulation struct {
	rng      *rand.Rand
	rows     []sizeRow
	bySize   [5]tally // fair correlation, by blunder over smallest findable
	byRho    [4]tally // over the smallest findable, by worst correlation
	examples []string
}

// size runs barns of one size, read over up to the given number of bays.
func (s *simulation) size(posts, bays, trials int) {
	row := sizeRow{posts: posts}
	for t := 0; t < trials; t++ {
		net := s.barn(posts, bays)
		smallest, worst, spare := reliability(net)
		row.readings, row.spare = len(net.Readings), spare
		row.jobs++
		row.good += len(net.Readings)
		if n := len(survey.Adjust(net, survey.Options{}).Suspects); n > 0 {
			row.alarms += n
			row.jobsUp++
		}
		i := s.rng.Intn(len(net.Readings))
		inches := 0.5 + 2.5*s.rng.Float64()
		if s.rng.Intn(4) == 0 {
			inches = 12 // one whole foot
		}
		size := inches * 0.0254
		row.smallest += smallest[i] / 0.0254
		if s.rng.Intn(2) == 0 {
			size = -size
		}
		net.Readings[i].Value += metres(size)
		r := survey.Adjust(net, survey.Options{})
		ratio := math.Abs(size) / smallest[i]
		if ratio >= 1 && worst[i] < 0.9 {
			row.fair.add(r, i)
		}
		if worst[i] < 0.9 {
			s.bySize[min(4, int(2*ratio))].add(r, i)
		}
		if ratio >= 1 {
			k := 0
			for k < 3 && worst[i] >= []float64{0.5, 0.7, 0.9}[k] {
				k++
			}
			s.byRho[k].add(r, i)
		}
		if len(s.examples) < 4 && t%97 == 5 && len(r.Suspects) > 0 {
			s.examples = append(s.examples, r.Suspects[0].Sentence)
		}
	}
	s.rows = append(s.rows, row)
}

// add judges one result: anything suspected, the wrong reading named first, it
// named first and nothing else suspected, it at least among the rivals named.
func (t *tally) add(r survey.Result, wrong int) {
	t.blunders++
	if len(r.Suspects) == 0 {
		return
	}
	t.detected++
	first := r.Suspects[0]
	in := first.Reading == wrong
	if in {
		t.named++
		if len(r.Suspects) == 1 && len(first.Others) == 0 {
			t.alone++
		}
	}
	for _, o := range first.Others {
		in = in || o.Reading == wrong
	}
	if in {
		t.set++
	}
}

func metres(m float64) measure.Length { return measure.Length(math.Round(m * 1e9)) }

func (s *simulation) barn(posts, bays int) survey.Network {
	const bay = 3.6576
	var net survey.Network
	at := map[string][2]float64{}
	name := func(row, i int) string { return fmt.Sprintf("%c%d", 'A'+row, i+1) }
	for row := 0; row < 2; row++ {
		for i := 0; i < posts; i++ {
			x, y := bay*float64(i), bay*float64(row)
			net.Points = append(net.Points, survey.Point{Name: name(row, i), X: metres(x), Y: metres(y)})
			at[name(row, i)] = [2]float64{x + 0.05*s.rng.NormFloat64(), y + 0.05*s.rng.NormFloat64()}
		}
	}
	read := func(k survey.Kind, a, b string) {
		l := math.Hypot(at[a][0]-at[b][0], at[a][1]-at[b][1])
		net.Readings = append(net.Readings, survey.Reading{Kind: k, Posts: []string{a, b}, Value: metres(l + sigma(l)*s.rng.NormFloat64())})
	}
	for i := 0; i < posts; i++ {
		read(survey.Distance, name(0, i), name(1, i))
		for step := 1; step <= bays && i+step < posts; step++ {
			for row := 0; row < 2; row++ {
				read(survey.Distance, name(row, i), name(row, i+step))
				read(survey.Diagonal, name(row, i), name(1-row, i+step))
			}
		}
	}
	return net
}

// sigma is the tape's standard deviation: 1/16 in + 1/5,000.
func sigma(l float64) float64 { return 0.0254/16 + l/5000 }

// reliability works out, from the drawn places, each reading's smallest
// findable blunder (metres) and its worst residual correlation.
func reliability(net survey.Network) (smallest, worst []float64, spare int) {
	index := map[string]int{}
	for i, p := range net.Points {
		index[p.Name] = i
	}
	m := len(net.Readings)
	a := mat.NewDense(m, 2*len(net.Points), nil)
	sg := make([]float64, m)
	for i, r := range net.Readings {
		p, q := index[r.Posts[0]], index[r.Posts[1]]
		dx, dy := (net.Points[q].X - net.Points[p].X).Metres(), (net.Points[q].Y - net.Points[p].Y).Metres()
		l := math.Hypot(dx, dy)
		sg[i] = sigma(r.Value.Metres())
		for k, v := range []float64{dx / l / sg[i], dy / l / sg[i]} {
			a.Set(i, 2*q+k, v)
			a.Set(i, 2*p+k, -v)
		}
	}
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDThin) {
		panic("no singular values")
	}
	rank := svd.Rank(1e-9)
	var u, hat mat.Dense
	svd.UTo(&u)
	hat.Mul(u.Slice(0, m, 0, rank), u.Slice(0, m, 0, rank).T())
	smallest, worst = make([]float64, m), make([]float64, m)
	for i := range smallest {
		ri := 1 - hat.At(i, i)
		smallest[i] = noncent * sg[i] / math.Sqrt(math.Max(ri, 1e-12))
		for j := 0; j < m; j++ {
			if rj := 1 - hat.At(j, j); j != i && ri > 1e-9 && rj > 1e-9 {
				worst[i] = math.Max(worst[i], math.Abs(hat.At(i, j))/math.Sqrt(ri*rj))
			}
		}
	}
	return smallest, worst, m - rank
}

func percent(a, b int) string {
	if b == 0 {
		return "-"
	}
	return fmt.Sprintf("%.1f %%", 100*float64(a)/float64(b))
}

func (s *simulation) print(scarce [4]tally) {
	w := tabwriter.NewWriter(os.Stdout, 0, 0, 1, ' ', 0)
	head := func(title, columns, rule string) { fmt.Fprintf(w, "\n%s\n\n%s\n%s\n", title, columns, rule) }
	head("By size of barn; blunders over the smallest findable, correlated under 0.9:",
		"| posts\t| readings\t| spare\t| mean smallest\t| blunders\t| named first\t| named alone\t| alarms per 1,000 good\t| jobs with an alarm\t|",
		"| --:\t| --:\t| --:\t| --:\t| --:\t| --:\t| --:\t| --:\t| --:\t|")
	var all sizeRow
	for _, r := range s.rows {
		fmt.Fprintf(w, "| 2×%d\t| %d\t| %d\t| %.2f in\t| %d\t| %s\t| %s\t| %.2f\t| %s\t|\n", r.posts, r.readings, r.spare, r.smallest/float64(r.jobs),
			r.fair.blunders, percent(r.fair.named, r.fair.blunders), percent(r.fair.alone, r.fair.blunders),
			1000*float64(r.alarms)/float64(r.good), percent(r.jobsUp, r.jobs))
		all.good += r.good
		all.alarms += r.alarms
		all.jobs += r.jobs
		all.jobsUp += r.jobsUp
		all.fair.blunders += r.fair.blunders
		all.fair.named += r.fair.named
		all.fair.alone += r.fair.alone
	}
	fmt.Fprintf(w, "| all\t| %d\t| \t| \t| %d\t| %s\t| %s\t| %.2f\t| %s\t|\n", all.good, all.fair.blunders,
		percent(all.fair.named, all.fair.blunders), percent(all.fair.alone, all.fair.blunders), 1000*float64(all.alarms)/float64(all.good), percent(all.jobsUp, all.jobs))
	rows := func(t []tally, labels []string) {
		for k, l := range labels {
			fmt.Fprintf(w, "| %s\t| %d\t| %s\t| %s\t| %s\t|\n", l, t[k].blunders, percent(t[k].detected, t[k].blunders), percent(t[k].named, t[k].blunders), percent(t[k].set, t[k].blunders))
		}
	}
	columns := func(first string) string {
		return "| " + first + "\t| blunders\t| something suspected\t| named first\t| named first or among rivals\t|"
	}
	head("By size of blunder, correlated under 0.9:", columns("blunder ÷ smallest findable"), "| --:\t| --:\t| --:\t| --:\t| --:\t|")
	rows(s.bySize[:], []string{"under 0.5", "0.5 to 1", "1 to 1.5", "1.5 to 2", "2 and over"})
	head("By correlation, over the smallest findable:", columns("worst correlation"), "| --:\t| --:\t| --:\t| --:\t| --:\t|")
	rows(s.byRho[:], []string{"under 0.5", "0.5 to 0.7", "0.7 to 0.9", "0.9 and over"})
	head("Barns of 2×4, 2×8 and 2×16 posts read over single bays only, over the smallest findable:", columns("worst correlation"), "| --:\t| --:\t| --:\t| --:\t| --:\t|")
	rows(scarce[:], []string{"under 0.5", "0.5 to 0.7", "0.7 to 0.9", "0.9 and over"})
	w.Flush()
	fmt.Printf("\nWhat a crew lead reads, from four of these barns:\n\n")
	for _, e := range s.examples {
		fmt.Println("- " + e)
	}
}
