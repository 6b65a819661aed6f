package examples_test

import (
	"os"
	"strings"
	"testing"

	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/plan"
	"stallwright/engine/price"
	"stallwright/engine/yard"
	"stallwright/examples"
)

// The demo shop's files read well, and price the demo farm without a gap.
func TestTheDemoShopPricesTheDemoFarm(t *testing.T) {
	text := examples.DemoInShop()
	if strings.Count(text, examples.PricesName) != 1 || strings.Count(text, examples.YardName) != 1 || strings.Contains(text, "lengths: [8'") {
		t.Fatal("the demo farm does not name the demo shop's files")
	}
	j, err := job.Read("demo.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	y, err := yard.Read(j.Lumber.Yard, []byte(examples.Yard))
	if err != nil {
		t.Fatal(err)
	}
	if j, err = yard.Supply(j, y); err != nil {
		t.Fatal(err)
	}
	file, src, _ := kit.Shipped(j.Kit)
	k, err := kit.Read(file, src)
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Make(j, k)
	if err != nil {
		t.Fatal(err)
	}
	b, err := price.Read(j.Prices, []byte(examples.Prices))
	if err != nil {
		t.Fatal(err)
	}
	o, err := p.Offer(t.Context(), b, nil)
	if err != nil || !o.Complete() || o.Net%500 != 0 {
		t.Fatalf("%v, missing %+v", err, o.Missing)
	}
	for i := range p.Takeoff.Cuts {
		if c := &p.Takeoff.Cuts[i]; !c.Plan.Proven {
			t.Errorf("the cut plan of %s is not proven", c.Name)
		}
	}
	// The book prices every item of its kit, so that any job of the line is priced.
	priced := map[string]bool{}
	for _, it := range b.Items {
		priced[it.Item] = true
	}
	for _, id := range k.ItemIDs() {
		if !priced[id] {
			t.Errorf("the demo book has no cost for %s", id)
		}
	}
	for _, name := range []string{"shop/" + examples.PricesName, "shop/" + examples.YardName} {
		src, err := os.ReadFile(name)
		if err != nil || !strings.Contains(string(src), "invented") {
			t.Errorf("%s does not say that it is invented (%v)", name, err)
		}
	}
}
