package walk

import (
	"strings"
	"testing"

	"stallwright/engine/job"
	"stallwright/engine/measure"
)

// The whole front is asked for from post to post before its frame is made, and
// the frame is made to what its end posts leave: 1 1/4 in on each side in this kit.
func TestWholeOpening(t *testing.T) {
	c := begin(t, barn).types("go A1-front").asks("opening A1-front bottom")
	if q := c.walk.Question(); q.Expected != 138*measure.Inch+measure.Inch/2 || !strings.Contains(q.Ask, "OPENING of A1-front") {
		t.Errorf("%+v", q)
	}
	c.types("11 6 3/4").hears("made for 11' 4 1/4\" from web to web", "middle, top").asks("opening A1-front middle")
	c.types("12 6 3/4").hears("STOP", "at the bottom it is").asks("opening A1-front middle")
	c.types("11 6 1/2", "11 6 5/8").hears("11' 4\" from web to web").asks("opening A2-front bottom")
	if e := c.written[0]; e.Width == nil || e.Width.From != job.FromFaces || e.Width.Bay != "A1-front" {
		t.Errorf("%+v", e)
	}
	// Once the frame stands it is too late to make it to anything.
	c.types("mark A2-front standing")
	if q := c.walk.find("opening A2-front bottom"); q != nil {
		t.Errorf("still asked: %s", q.Status)
	}
}

// A high spot found while walking is levelled with the posts, from both set-ups.
func TestHighSpot(t *testing.T) {
	c := begin(t, barn).types("go spots A1", "perhaps").hears("no, or yes").wrote(0)
	c.types("yes").hears("A1.high.1").wrote(1).asks("level A1.high.1 from A-1")
	if q := c.walk.find("level A1.high.1 from A-1"); q == nil || q.Status != Open {
		t.Fatalf("the rod is not asked for: %+v", q)
	}
	if c.walk.find("level A1.high.1 from A-2") == nil || c.walk.find("spots A1").Status != Done {
		t.Error("one set-up alone, or the question still open")
	}
	c.types("spot A1").wrote(2)
	if c.walk.find("level A1.high.2 from A-1") == nil {
		t.Error("a second spot of the room is not asked for")
	}
	c.types("spot A9").hears("no room A9").wrote(2)
	// No is an answer too, and stays one in the next session; a note is none.
	c.types("go spots A2", "note wet corner").wrote(3).asks("spots A2").types("no").wrote(4)
	c.resume()
	if q := c.walk.find("spots A2"); q.Status != Done {
		t.Errorf("it is %s", q.Status)
	}
}

// What crosses a wall is written where it is, and boards are cut for it at once.
func TestWhatCrosses(t *testing.T) {
	c := begin(t, barn).types("go crossings A", "yes").hears("Type cross").wrote(0).asks("crossings A")
	for _, typed := range []string{
		"cross", "cross A1-A2 pipe", "cross A9-A2 pipe 1', 2\", 3', 4\"", "cross A1-A2 horse 1', 2\", 3', 4\"", "cross A1-A2 pipe 1', 2\", 3'",
		"cross A1-A2 pipe 1', no, 3', 4\"", "cross A1-A2 pipe 11', 1', 3', 4\"", "cross A1-A2 pipe 1', 0, 3', 4\"",
	} {
		c.types(typed).wrote(0)
		if len(c.said) == 0 {
			t.Errorf("%q: nothing was said", typed)
		}
	}
	c.types(`cross A1-A2 pipe 5', 2 1/2", 1' 9", 2 1/2"`).hears("Noted at A1-A2", "cut for what crosses").wrote(1)
	o := c.walk.Plan().Fit.Obstructions
	if len(o) != 1 || o[0].X != 60*measure.Inch || o[0].Width != 5*measure.Inch/2 || len(o[0].Cut) == 0 {
		t.Fatalf("%+v", o)
	}
	if q := c.walk.find("crossings A"); q.Status != Done {
		t.Errorf("it is %s", q.Status)
	}
	// Anything else, later, from anywhere; metric crews type millimetres.
	c.types(`cross A1-left brace 3 2, 4, 2 0, 6`).wrote(2)
	metric := begin(t, strings.Replace(barn, "units: feet", "units: metric", 1))
	metric.types("cross A1-A2 pipe 1500, 60, 700, 60").wrote(1)
}

// The whole walk speaks the job's language; what is typed in English still counts.
func TestWalkInSpanish(t *testing.T) {
	c := begin(t, strings.Replace(barn, "units: feet", "units: feet\nlanguage: es", 1))
	var shown []string
	for _, q := range c.walk.Questions() {
		shown = append(shown, q.Ask, q.How, q.Watch, q.Type)
	}
	all := strings.Join(shown, "\n")
	for _, bad := range []string{"[en]", "[walk", "[site", "?}", "CLEAR WIDTH", "the"} {
		for _, word := range strings.Fields(all) {
			if word == bad || len(bad) > 3 && strings.Contains(word, bad) {
				t.Fatalf("%q is said:\n%s", bad, all)
			}
		}
	}
	c.types("ir A1-A2").asks("ready A1-A2").types("sí").hears("Fijado").types("16 1 1/4").hears("ALTO", "lo explicaría: 11' 6 1/4\"", "No se anotó")
	c.types("11 6 1/8").hears(`TABLA 11' 5 15/16" (17 hiladas)`, "Falta leer: en medio, arriba").types("saltar", "atrás", "nota poste torcido").hears("Anotado")
	c.types("help").hears("marcar NOMBRE").types("go A1-A2 middle", "11 6 1/8", "11 6 1/8", "yes").hears("LIBERADO: A1-A2, 17 tablas")
	c.types("quit")
}

// States are typed in either language; refusals and slips are told in full.
func TestStatesAndSlipsInSpanish(t *testing.T) {
	spanish := strings.Replace(barn, "units: feet", "units: feet\nlanguage: es", 1)
	c := begin(t, spanish).types("marcar A1-A2 cortado").hears("no puede quedar cortado: está solo dibujado; libérelo primero", "No se anotó").wrote(0)
	c.types("mark A1-A2 released").hears("nadie declaró que sus canales estén fijados").wrote(0)
	c.types("marcar A1-front soldado").hears("entregado, de pie, apretado").wrote(0)
	c.types("marcar A1-front de pie").hears("A1-front: de pie").wrote(1)
	c.types("marcar A1-front-left LIBERADO").hears("el marco de A1-front está solo de pie").wrote(1)
	c.types("mark A1-front tight").hears("apretado").wrote(2)
	c.types("ir A1-A2", "sí", "16 1 1/4").hears("Dos cifras cambiadas de lugar; eso lo explicaría").wrote(3)
	c.types("11 6 1/8", "10 6 1/8").hears("Un pie entero de menos").wrote(4)
}
