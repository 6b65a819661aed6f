package page

import (
	"context"
	"fmt"
	"strings"

	"stallwright/app/shop"
	"stallwright/engine/document"
	"stallwright/engine/job"
	"stallwright/engine/plan"
	"stallwright/engine/price"
	"stallwright/engine/yard"
	"stallwright/paper/offer"
	"stallwright/paper/words"
)

// file finds a file of the shop that a job names by a path.
func (a *Asked) file(kind shop.Kind, named string) (text string, ok bool) {
	text, ok = a.Shop[string(kind)+"/"+shop.Name(named)]
	return text, ok
}

// goods is the shop's files that a plan depends on: all but price books.
func (a *Asked) goods() map[string]string {
	out := make(map[string]string, len(a.Shop))
	for name, text := range a.Shop {
		if !strings.HasPrefix(name, string(shop.Prices)+"/") {
			out[name] = text
		}
	}
	return out
}

// missing says that a file that the job names is not on this device.
func missing(j *job.Job, kind shop.Kind, named string, at document.Pos, key string) error {
	r := j.Reporter()
	r.Add(at, key, named, fmt.Sprintf("the shop's %s on this device hold no %q", kind, shop.Name(named)), "keep it in the shop first, or open the job once where there is signal")
	return r.Err()
}

// supply gives the job the boards of its yard, where it names one.
func (a *Asked) supply(j *job.Job) (*job.Job, error) {
	if j.Lumber.Yard == "" {
		return j, nil
	}
	text, ok := a.file(shop.Yards, j.Lumber.Yard)
	if !ok {
		return nil, missing(j, shop.Yards, j.Lumber.Yard, j.Lumber.Of("yard"), "lumber.yard")
	}
	y, err := yard.Read(shop.Name(j.Lumber.Yard), []byte(text))
	if err != nil {
		return nil, err
	}
	return yard.Supply(j, y)
}

// offer prices a plan by the price book that its job names.
func (a *Asked) offer(p *plan.Plan) (*price.Offer, error) {
	if p.Job.Prices == "" {
		return nil, fmt.Errorf("the job names no price book")
	}
	text, ok := a.file(shop.Prices, p.Job.Prices)
	if !ok {
		return nil, missing(p.Job, shop.Prices, p.Job.Prices, p.Job.Of("prices"), "prices")
	}
	b, err := price.Read(shop.Name(p.Job.Prices), []byte(text))
	if err != nil {
		return nil, err
	}
	return p.Offer(context.Background(), b, nil)
}

// Offer is a job priced: as data, and as the customer reads it.
type Offer struct {
	Document *offer.Document `json:"document"`
	Customer string          `json:"customer"`
}

func offered(a *Asked) (any, error) {
	p, err := a.plan()
	if err != nil {
		return nil, err
	}
	o, err := a.offer(p)
	if err != nil {
		return nil, err
	}
	w, err := words.For(p.Job.Language, p.Job.Units)
	if err != nil {
		return nil, err
	}
	return &Offer{offer.NewDocument(p, o, w), string(offer.Customer(p, o, w).Text())}, nil
}

// whyOffer tells why an amount of the offer is as it is.
func (a *Asked) whyOffer(p *plan.Plan, about string) ([]plan.Topic, error) {
	o, err := a.offer(p)
	if err != nil {
		return nil, err
	}
	list, ok := o.Why(about)
	if !ok {
		return nil, &plan.UnknownError{Target: about, Hint: "the offer holds: " + strings.Join(o.Names(), ", ")}
	}
	var out []plan.Topic
	for _, t := range list {
		out = append(out, plan.Topic{Title: t.Title, Why: t.Why})
	}
	return out, nil
}

// Checked is what a file of the shop calls itself.
type Checked struct {
	Title string `json:"title"`
}

// checked reads a file of the shop, whose one text stands in Shop, as the command
// line does. Its mistakes are the reply's problems.
func checked(a *Asked) (any, error) {
	kind, name, ok := strings.Cut(a.About, "/")
	text, there := a.Shop[a.About]
	if !ok || !there {
		return nil, fmt.Errorf("name the file that is to be checked: kits/ours.yaml")
	}
	title, err := shop.Check(shop.Kind(kind), name, text)
	if err != nil {
		return nil, err
	}
	return &Checked{title}, nil
}
