package page

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"stallwright/engine/kit"
	"stallwright/engine/price"
	"stallwright/engine/yard"
)

// shopJob is the demo farm on files of the shop alone: its own kit, yard and prices.
func shopJob(t *testing.T) (job string, files map[string]string) {
	t.Helper()
	src, err := os.ReadFile("../../examples/three-meadows.yaml")
	if err != nil {
		t.Fatal(err)
	}
	job = strings.Replace(string(src), "kit: fernhollow", "kit: ./our-line.yaml\nprices: spring.yaml", 1)
	job = strings.Replace(job, "lengths: [8', 10', 12', 14', 16']", "yard: lists/mill-lane.yaml", 1)
	_, own, _ := kit.Shipped("fernhollow")
	return job, map[string]string{"kits/our-line.yaml": string(own), "prices/spring.yaml": string(price.Starter()), "yards/mill-lane.yaml": string(yard.Starter())}
}

func reply(t *testing.T, name string, a Asked, result any) Reply {
	t.Helper()
	in, err := json.Marshal(a)
	if err != nil {
		t.Fatal(err)
	}
	out := struct {
		Reply
		Result json.RawMessage `json:"result"`
	}{}
	if err := json.Unmarshal(Answer(name, in), &out); err != nil {
		t.Fatal(err)
	}
	if result != nil && out.Result != nil {
		if err := json.Unmarshal(out.Result, result); err != nil {
			t.Fatal(err)
		}
	}
	return out.Reply
}

func TestAJobIsPricedInThePage(t *testing.T) {
	job, files := shopJob(t)
	a := Asked{Job: job, Shop: files}
	var o Offer
	if r := reply(t, "offer", a, &o); r.Error != "" || r.Problems != nil {
		t.Fatalf("%+v", r)
	}
	d := o.Document
	if !d.Complete || d.Total <= d.Net || d.Lumber <= 0 || d.Lumber >= d.Cost || d.Yard != "Example yard" || !strings.Contains(o.Customer, d.TotalText) {
		t.Errorf("%+v", d)
	}
	// Another price book changes the offer at once, though the plan stays.
	dear := map[string]string{}
	for name, text := range files {
		dear[name] = text
	}
	dear["prices/spring.yaml"] = strings.Replace(dear["prices/spring.yaml"], "margin: 25 %", "margin: 50 %", 1)
	var other Offer
	reply(t, "offer", Asked{Job: job, Shop: dear}, &other)
	if other.Document.Net <= d.Net || other.Document.Cost != d.Cost {
		t.Errorf("net %d and %d, cost %d and %d", d.Net, other.Document.Net, d.Cost, other.Document.Cost)
	}
	// Another yard changes the plan.
	dear["yards/mill-lane.yaml"] = strings.Replace(dear["yards/mill-lane.yaml"], "price: 11.05", "price: 21.05", 1)
	reply(t, "offer", Asked{Job: job, Shop: dear}, &other)
	if other.Document.Lumber <= d.Lumber {
		t.Errorf("boards cost %d, and %d where 12 ft are dear", d.Lumber, other.Document.Lumber)
	}
	var why []Reason
	a.About = "offer/slide-48"
	if reply(t, "why", a, &why); len(why) != 1 || !strings.Contains(strings.Join(why[0].Lines, "\n"), "spring.yaml:") {
		t.Errorf("%+v", why)
	}
}

func TestWhatIsNotOnTheDeviceIsNamed(t *testing.T) {
	job, files := shopJob(t)
	for name, question := range map[string]string{"kits/our-line.yaml": "sketch", "yards/mill-lane.yaml": "screen", "prices/spring.yaml": "offer"} {
		left := map[string]string{}
		for n, text := range files {
			if n != name {
				left[n] = text
			}
		}
		r := reply(t, question, Asked{Job: job, Shop: left}, nil)
		if len(r.Problems) != 1 || r.Problems[0].Line == 0 || !strings.Contains(r.Problems[0].Message, strings.SplitN(name, "/", 2)[1]) {
			t.Errorf("without %s: %+v", name, r)
		}
	}
}

func TestAFileOfTheShopIsReadAsOneWrites(t *testing.T) {
	_, files := shopJob(t)
	for name, text := range files {
		var c Checked
		if r := reply(t, "check", Asked{About: name, Shop: map[string]string{name: text}}, &c); r.Problems != nil || c.Title == "" {
			t.Errorf("%s: %+v", name, r)
		}
		r := reply(t, "check", Asked{About: name, Shop: map[string]string{name: text + "\nnonsense: 1\n"}}, nil)
		if len(r.Problems) != 1 || r.Problems[0].Line == 0 || r.Problems[0].Column != 1 || r.Problems[0].Hint == "" {
			t.Errorf("%s with a mistake: %+v", name, r)
		}
	}
	if r := reply(t, "check", Asked{About: "hats/x.yaml", Shop: map[string]string{"hats/x.yaml": ""}}, nil); r.Error == "" && r.Problems == nil {
		t.Error("a file of no kind reads well")
	}
	var c Choices
	reply(t, "choices", Asked{Shop: files}, &c)
	if n := len(c.Kits); n != len(kit.ShippedNames())+1 || c.Kits[n-1].Name != "./our-line.yaml" {
		t.Errorf("%+v", c.Kits)
	}
	for _, name := range []string{"prices", "yard", "kit nordhag", "pen"} {
		var text string
		if reply(t, "starter", Asked{About: name}, &text); len(text) < 100 {
			t.Errorf("no starter %s", name)
		}
	}
}
