package web

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"io"
	"strings"
	"testing"

	"stallwright/app/account"
	"stallwright/app/store"
	"stallwright/app/store/storetest"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/plan"
	"stallwright/engine/price"
	"stallwright/engine/yard"
	"stallwright/paper/offer"
	"stallwright/paper/packet"
)

func TestJobFromFirstSaveToRestore(t *testing.T) {
	storetest.Run(t, func(t *testing.T, o store.Options) {
		a := start(t, o)
		one := exampleJob(t, "harrow-field-pen")
		two := strings.Replace(one, "across: 60'", "across: 50'", 1)
		tag := a.make("pen", one)
		var j JobText
		r := a.call("GET", "/api/jobs/pen", nil).want(200)
		r.into(&j)
		if j.Text != one || j.Title != "Harrow Field, round pen" || j.Farm != "Harrow Field" || r.Header.Get("ETag") != `"`+tag+`"` {
			t.Errorf("%+v", j)
		}
		a.call("PUT", "/api/jobs/pen", text(two)).want(428)
		a.call("PUT", "/api/jobs/pen", text(two), "If-Match", `"`+tag+`"`).want(200).into(&j)
		if j.Revision != 2 {
			t.Errorf("%+v", j)
		}
		var list struct{ Revisions []Revision }
		a.call("GET", "/api/jobs/pen/revisions", nil).want(200).into(&list)
		if len(list.Revisions) != 2 || list.Revisions[1].Tag != tag {
			t.Errorf("%+v", list)
		}
		var c Compared
		a.call("GET", "/api/jobs/pen/compare?from=1", nil).want(200).into(&c)
		if c.To != 2 || !strings.Contains(c.Text, "P") || len(c.Diff) < 100 {
			t.Errorf("%+v", c)
		}
		a.call("POST", "/api/jobs/pen/revisions/1/restore", nil, "If-Match", tag).want(412)
		a.call("POST", "/api/jobs/pen/revisions/1/restore", nil, "If-Match", j.Tag).want(200).into(&j)
		a.call("GET", "/api/jobs/pen", nil).want(200).into(&j)
		if j.Text != one || j.Revision != 3 {
			t.Errorf("%d %q", j.Revision, j.Text[:40])
		}
		a.call("DELETE", "/api/jobs/pen", nil).want(204)
		var jobs struct{ Jobs []JobHead }
		a.call("GET", "/api/jobs", nil).want(200).into(&jobs)
		if len(jobs.Jobs) != 0 {
			t.Error("a deleted job is listed")
		}
		a.call("GET", "/api/jobs?deleted=true", nil).want(200).into(&jobs)
		if len(jobs.Jobs) != 1 {
			t.Error("a deleted job is not listed where it is asked for")
		}
		a.call("POST", "/api/jobs/pen/bring-back", nil).want(200)
		a.call("GET", "/api/jobs", nil).want(200).into(&jobs)
		if len(jobs.Jobs) != 1 {
			t.Error("a job brought back is not listed")
		}
	})
}

// Two people edit one job. What goes together is offered as one text and saved only
// when somebody says so; what does not is told, place by place.
func TestTwoPeopleEditOneJob(t *testing.T) {
	storetest.Run(t, func(t *testing.T, o store.Options) {
		a := start(t, o)
		base := exampleJob(t, "harrow-field-pen")
		tag := a.make("pen", base)
		ann := strings.Replace(base, "across: 60'", "across: 50'", 1)
		bob := strings.Replace(base, "place: end of Sandpit Road", "place: Sandpit Road 9", 1)
		a.call("PUT", "/api/jobs/pen", text(ann), "If-Match", tag).want(200)
		var c Conflict
		a.call("PUT", "/api/jobs/pen", text(bob), "If-Match", tag).want(412).into(&c)
		if c.Now.Text != ann || c.Base == nil || c.Base.Text != base || len(c.Clashes) != 0 {
			t.Fatalf("%+v", c)
		}
		if want := strings.Replace(ann, "place: end of Sandpit Road", "place: Sandpit Road 9", 1); c.Merged != want {
			t.Errorf("merged: %q", c.Merged)
		}
		a.call("PUT", "/api/jobs/pen", text(c.Merged), "If-Match", c.Now.Tag).want(200)

		cid := strings.Replace(base, "across: 60'", "across: 66'", 1)
		a.call("PUT", "/api/jobs/pen", text(cid), "If-Match", tag).want(412).into(&c)
		if len(c.Clashes) != 1 || !strings.Contains(c.Clashes[0].Ours, "66'") || !strings.Contains(c.Clashes[0].Theirs, "50'") {
			t.Errorf("%+v", c.Clashes)
		}
		var j JobText
		a.call("GET", "/api/jobs/pen", nil).into(&j)
		if j.Revision != 3 {
			t.Errorf("a refused save made revision %d", j.Revision)
		}
	})
}

func TestMistakesAreToldByLine(t *testing.T) {
	a := start(t, sqlite(t))
	broken := strings.Replace(exampleJob(t, "harrow-field-pen"), "units: feet", "units: cubits\nwhat: is this", 1)
	var m Mistakes
	a.call("PUT", "/api/jobs/pen", text(broken), "If-None-Match", "*").want(422).into(&m)
	if len(m.Problems) < 2 || m.Problems[0].Line != 6 {
		t.Errorf("%+v", m)
	}
	a.call("GET", "/api/jobs/pen", nil).want(404)
	// A kit that nobody knows: the job is kept, and cannot be planned.
	a.make("pen", strings.Replace(exampleJob(t, "harrow-field-pen"), "kit: fernhollow", "kit: fernholow", 1))
	a.call("GET", "/api/jobs/pen/plan", nil).want(422).says("fernhollow")
}

// The server's plan is the command line's: the same bytes.
func TestPlanIsTheSameAsTheCommandLines(t *testing.T) {
	a := start(t, sqlite(t))
	for _, name := range []string{"harrow-field-pen", "nordlia-free-barn"} {
		src := exampleJob(t, name)
		a.make(name, src)
		r := a.call("GET", "/api/jobs/"+name+"/plan", nil).want(200)
		j, err := job.Read("job.yaml", []byte(src))
		if err != nil {
			t.Fatal(err)
		}
		file, line, _ := kit.Shipped(j.Kit)
		k, err := kit.Read(file, line)
		if err != nil {
			t.Fatal(err)
		}
		p, err := plan.Make(j, k)
		if err != nil {
			t.Fatal(err)
		}
		want, err := packet.JSON(p)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(r.Body, want) {
			t.Errorf("%s: the server's plan.json differs", name)
		}
		a.call("GET", "/api/jobs/"+name+"/plan", nil, "If-None-Match", r.Header.Get("ETag")).want(304)
	}
	if made, hits, _ := a.server.maker.Counts(); made != 2 || hits != 0 {
		t.Errorf("%d made, %d found", made, hits)
	}
}

func TestPapers(t *testing.T) {
	a := start(t, sqlite(t))
	a.make("pen", exampleJob(t, "harrow-field-pen"))
	var files struct{ Files []FileHead }
	a.call("GET", "/api/jobs/pen/files", nil).want(200).into(&files)
	names := map[string]FileHead{}
	for _, f := range files.Files {
		names[f.Name] = f
	}
	for _, want := range []string{"plan.json", "summary.txt", "cut-pieces.csv", packet.PDFName} {
		if names[want].Bytes == 0 {
			t.Errorf("no %s among %v", want, files.Files)
		}
	}
	r := a.call("GET", "/api/jobs/pen/file?name="+packet.PDFName, nil).want(200)
	if !bytes.HasPrefix(r.Body, []byte("%PDF-")) || r.Header.Get("Content-Type") != "application/pdf" {
		t.Errorf("%s", r.Header)
	}
	var d struct{ Drawings []DrawingHead }
	a.call("GET", "/api/jobs/pen/drawings", nil).want(200).into(&d)
	if len(d.Drawings) == 0 {
		t.Fatal("no drawings")
	}
	r = a.call("GET", "/api/jobs/pen/file?name="+d.Drawings[0].Name, nil).want(200).says("<svg")
	if p := r.Header.Get("Content-Security-Policy"); !strings.Contains(p, "sandbox") {
		t.Error("a drawing may run scripts: ", p)
	}
	a.call("GET", "/api/jobs/pen/file?name=../../etc/passwd", nil).want(404)
	a.call("GET", "/api/jobs/pen/file?name=summary.txt&language=es", nil).want(200)
	a.call("GET", "/api/jobs/pen/file?name=summary.txt&language=not+a+tag", nil).want(422)
	a.call("GET", "/api/jobs/pen/file?name=summary.txt&paper=a4", nil).want(200)
	z := a.call("GET", "/api/jobs/pen/packet.zip", nil).want(200)
	again := a.call("GET", "/api/jobs/pen/packet.zip", nil).want(200)
	if !bytes.Equal(z.Body, again.Body) {
		t.Error("two packets of one plan differ")
	}
	r0, err := zip.NewReader(bytes.NewReader(z.Body), int64(len(z.Body)))
	if err != nil || len(r0.File) != len(files.Files) {
		t.Errorf("%v", err)
	}
}

// What is taken out is what the command line reads, and taken in again it is the
// same job.
func TestExportAndImport(t *testing.T) {
	storetest.Run(t, func(t *testing.T, o store.Options) {
		a := start(t, o)
		_, own, _ := kit.Shipped("fernhollow")
		ownKit := strings.Replace(string(own), "kit: fernhollow", "kit: ours", 1)
		a.call("PUT", "/api/shop/kits/ours.yaml", text(ownKit), "If-None-Match", "*").want(200)
		src := strings.Replace(exampleJob(t, "three-meadows"), "kit: fernhollow", "kit: ./ours.yaml", 1)
		a.make("farm", src)
		a.records("farm", note("n1", "L3-left", 138), cutLine("c1")).want(200)
		z := a.call("GET", "/api/jobs/farm/export", nil).want(200)
		files := unzip(t, z.Body)
		if files["job.yaml"] != src || files["ours.yaml"] != ownKit || !strings.Contains(files["job.notes.jsonl"], `"n1"`) || !strings.Contains(files["job.records.jsonl"], `"c1"`) {
			t.Errorf("%d files", len(files))
		}

		b := start(t, storetest.Options(t, "sqlite"))
		var in Imported
		b.call("POST", "/api/jobs?id=copy", z.Body, "Content-Type", "application/zip").want(200).into(&in)
		if in.Records != 2 || in.Kit != "ours.yaml" || in.Left != "" {
			t.Errorf("%+v", in)
		}
		there, here := a.call("GET", "/api/jobs/farm/plan", nil).want(200), b.call("GET", "/api/jobs/copy/plan", nil).want(200)
		if !bytes.Equal(there.Body, here.Body) {
			t.Error("the copy's plan differs")
		}
		// A plain text, as the command line's users have it.
		b.call("POST", "/api/jobs", []byte(exampleJob(t, "harrow-field-pen")), "Content-Type", "application/yaml").want(200).into(&in)
		if in.Job.Title != "Harrow Field, round pen" {
			t.Errorf("%+v", in)
		}
		b.call("POST", "/api/jobs", []byte("job: [")).want(422)
		b.call("POST", "/api/jobs", append([]byte("PK\x03\x04"), z.Body[4:100]...)).want(415)
		b.call("POST", "/api/jobs", []byte{0xff, 0xfe, 0, 1}).want(422)
	})
}

func unzip(t *testing.T, data []byte) map[string]string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		out[f.Name] = string(text)
	}
	return out
}

// A ZIP that unpacks to gigabytes is given up long before.
func TestZipBombIsRefused(t *testing.T) {
	a := start(t, sqlite(t))
	var buf bytes.Buffer
	w := zip.NewWriter(&buf)
	f, err := w.Create("job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	zeros := make([]byte, 1<<20)
	for range 200 {
		if _, err := f.Write(zeros); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	a.call("POST", "/api/jobs", buf.Bytes()).want(413)
}

func TestShopKeepsWhatTheCommandLineReads(t *testing.T) {
	storetest.Run(t, func(t *testing.T, o store.Options) {
		a := start(t, o)
		stock := "length,price,available,material\n12',9.80,,pine\n16',13.40,20,pine\n"
		var h ShopHead
		a.call("PUT", "/api/shop/yards/mill.csv", text(stock), "If-None-Match", "*").want(200).into(&h)
		a.call("PUT", "/api/shop/yards/mill.csv", text(stock+"18',x,,pine\n"), "If-Match", h.Tag).want(422).says(`"line":4`)
		a.call("PUT", "/api/shop/yards/mill.csv", text(stock+"18',15,,pine\n"), "If-Match", h.Tag).want(200)
		a.call("PUT", "/api/shop/yards/mill.csv", text(stock), "If-Match", h.Tag).want(412)
		a.call("PUT", "/api/shop/yards/mill.csv", text(stock), "If-None-Match", "*").want(412)
		if r := a.call("GET", "/api/shop/yards/mill.csv/file", nil).want(200); !strings.HasSuffix(string(r.Body), "18',15,,pine\n") {
			t.Errorf("%s", r.Body)
		}
		a.call("PUT", "/api/shop/kits/bad.yaml", text("kit: x"), "If-None-Match", "*").want(422)
		a.call("PUT", "/api/shop/kits/bad.txt", text("kit: x"), "If-None-Match", "*").want(422)
		a.call("PUT", "/api/shop/hats/x.yaml", text("kit: x"), "If-None-Match", "*").want(422)
		a.call("DELETE", "/api/shop/yards/mill.csv", nil).want(204)
		var list struct{ Files []ShopHead }
		a.call("GET", "/api/shop/yards", nil).want(200).into(&list)
		if len(list.Files) != 1 || list.Files[0].Deleted == "" {
			t.Errorf("%+v", list)
		}
		a.call("POST", "/api/shop/yards/mill.csv/bring-back", nil).want(200)
		a.call("GET", "/api/shop/yards/mill.csv/revisions/1", nil).want(200).says("13.40")
		a.call("GET", "/api/shop/yards/none.csv", nil).want(404)
	})
}

// Kits, price books and yards go in and out byte for byte; a job that names them is
// planned and priced from them; a crew never sees a price book.
func TestJobsUseTheShopsFiles(t *testing.T) {
	storetest.Run(t, func(t *testing.T, o store.Options) {
		a := start(t, o)
		_, own, _ := kit.Shipped("fernhollow")
		files := []struct{ at, text string }{
			{"kits/our-line.yaml", string(own) + "# ours\n"}, {"prices/spring.yaml", string(price.Starter())}, {"yards/mill-lane.yaml", string(yard.Starter())},
		}
		for _, f := range files {
			a.call("PUT", "/api/shop/"+f.at, text(f.text), "If-None-Match", "*").want(200)
			if r := a.call("GET", "/api/shop/"+f.at+"/file", nil).want(200); string(r.Body) != f.text {
				t.Errorf("%s came back changed", f.at)
			}
			a.call("PUT", "/api/shop/"+f.at, text(f.text+"nonsense: 1\n"), "If-None-Match", "*").want(422).says(`"column"`)
		}
		job := exampleJob(t, "three-meadows")
		job = strings.Replace(job, "kit: fernhollow", "kit: ./our-line.yaml\nprices: spring.yaml", 1)
		job = strings.Replace(job, "lengths: [8', 10', 12', 14', 16']", "yard: mill-lane.yaml", 1)
		a.make("farm", job)
		var along TakeAlong
		a.call("GET", "/api/jobs/farm/take-along", nil).want(200).into(&along)
		for i, f := range []*KitText{along.Kit, along.Prices, along.Yard} {
			if f == nil || f.Text != files[i].text {
				t.Errorf("a device does not get %s: %+v", files[i].at, f)
			}
		}
		var out OfferAnswer
		a.call("GET", "/api/jobs/farm/offer", nil).want(200).into(&out)
		var d offer.Document
		if err := json.Unmarshal(out.Offer, &d); err != nil || !d.Complete || d.Total <= d.Net || d.Lumber <= 0 || d.Yard != "Example yard" {
			t.Errorf("%v %+v", err, d)
		}
		if strings.Contains(out.Customer, "Cost") || !strings.Contains(out.Office, "Cost") {
			t.Errorf("the customer's paper tells costs, or the office's does not:\n%s", out.Customer)
		}
		for name, begins := range map[string]string{"offer.pdf": "%PDF-", "offer.txt": "Offer", "offer.csv": "kind,", "offer.json": "{", "office.txt": "Offer"} {
			if r := a.call("GET", "/api/jobs/farm/offer/file?name="+name, nil).want(200); !strings.HasPrefix(string(r.Body), begins) {
				t.Errorf("%s begins %.20q", name, r.Body)
			}
		}
		// The same figures as from the files of an export.
		zip := a.call("GET", "/api/jobs/farm/export", nil).want(200).Body
		var in Imported
		a.call("POST", "/api/jobs?id=again", zip).want(200).into(&in)
		if in.Kit != "our-line.yaml" || in.Yard != "mill-lane.yaml" || in.Prices != "spring.yaml" || in.Left != "" {
			t.Errorf("%+v", in)
		}
		var again OfferAnswer
		a.call("GET", "/api/jobs/again/offer", nil).want(200).into(&again)
		if !bytes.Equal(again.Offer, out.Offer) {
			t.Error("the job taken in again is priced otherwise")
		}
		a.call("GET", "/api/jobs/farm/offer?prices=none.yaml", nil).want(422).says("none.yaml")
		// Where the yard is not in the shop, the job says so at its line.
		a.make("lost", strings.Replace(job, "mill-lane.yaml", "gone.yaml", 1))
		a.call("GET", "/api/jobs/lost/plan", nil).want(422).says("gone.yaml").says(`"line"`)
		a.person(account.Owner)
		crew := a.person(account.Crew)
		a.call("GET", "/api/shop/prices/spring.yaml", nil, "Cookie", crew).want(403)
		a.call("GET", "/api/jobs/farm/offer", nil, "Cookie", crew).want(403)
		along = TakeAlong{}
		a.call("GET", "/api/jobs/farm/take-along", nil, "Cookie", crew).want(200).into(&along)
		if along.Prices != nil || along.Yard == nil || along.Kit == nil {
			t.Errorf("a crew takes along %v, %v, %v", along.Kit != nil, along.Yard != nil, along.Prices != nil)
		}
		if names := string(a.call("GET", "/api/jobs/farm/export", nil, "Cookie", crew).want(200).Body); strings.Contains(names, "spring.yaml") {
			t.Error("a crew's export holds the price book")
		}
	})
}

func TestTakeAlongIsAllThatADeviceNeeds(t *testing.T) {
	a := start(t, sqlite(t))
	a.make("farm", exampleJob(t, "three-meadows"))
	a.records("farm", note("n1", "L3-left", 138), cutLine("c1")).want(200)
	var out TakeAlong
	a.call("GET", "/api/jobs/farm/take-along", nil).want(200).into(&out)
	if len(out.Records) != 2 || out.Seq != 3 || out.Kit != nil || out.Job.Tag == "" {
		t.Errorf("%+v", out)
	}
	if _, err := json.Marshal(out.Records); err != nil {
		t.Error(err)
	}
}
