package web

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"io"
	"net/http"
	"path"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"stallwright/app/making"
	"stallwright/app/notebook"
	"stallwright/app/record"
	"stallwright/app/shop"
	"stallwright/app/store"
	"stallwright/engine/document"
	"stallwright/engine/job"
	"stallwright/paper/packet"
)

// recordsFile holds, in an export, the records that the notebook does not.
const recordsFile = "job.records.jsonl"

// exportJob packs a job as files: the job, its notebook and its kit are what the
// command line reads, the other records and the photos stand beside them.
func (s *Server) exportJob(ctx context.Context, in *OfJob) (*FileOut, error) {
	j, err := s.store.Job(ctx, in.Job)
	if err != nil {
		return nil, err
	}
	records, err := s.store.AllRecords(ctx, in.Job)
	if err != nil {
		return nil, err
	}
	files := []packet.File{{Name: making.JobFile, Data: []byte(j.Text)}}
	var uses TakeAlong
	if err := s.shopOf(ctx, j.Text, &uses); err != nil {
		return nil, err
	}
	for _, f := range []*KitText{uses.Kit, uses.Yard, uses.Prices} {
		if f != nil {
			files = append(files, packet.File{Name: f.Name, Data: []byte(f.Text)})
		}
	}
	var notes, others bytes.Buffer
	for i := range records {
		if records[i].Kind == record.Note {
			notes.Write(records[i].Note)
			notes.WriteByte('\n')
			continue
		}
		line, err := records[i].Line()
		if err != nil {
			return nil, err
		}
		others.Write(line)
		others.WriteByte('\n')
	}
	for _, f := range []packet.File{{Name: notebook.Path(making.JobFile), Data: notes.Bytes()}, {Name: recordsFile, Data: others.Bytes()}} {
		if len(f.Data) > 0 {
			files = append(files, f)
		}
	}
	photos, err := s.store.Photos(ctx, in.Job)
	if err != nil {
		return nil, err
	}
	for _, head := range photos {
		p, err := s.store.Photo(ctx, in.Job, head.ID)
		if err != nil {
			return nil, err
		}
		files = append(files, packet.File{Name: "photos/" + p.ID + ".jpg", Data: p.Data})
	}
	data, err := making.Zip(files)
	if err != nil {
		return nil, err
	}
	return &FileOut{"application/zip", disposition(in.Job + ".zip"), filePolicy, again, quoted(j.Tag()), data}, nil
}

// Imported is what an import made.
type Imported struct {
	Job     JobHead `json:"job"`
	Records int     `json:"records" doc:"readings and other records taken in"`
	Kit     string  `json:"kit,omitempty" doc:"the kit's file that was kept in the shop"`
	Yard    string  `json:"yard,omitempty" doc:"the yard's, likewise"`
	Prices  string  `json:"prices,omitempty" doc:"the price book's, likewise"`
	Left    string  `json:"left,omitempty" doc:"what was not taken in, and why"`
}

// importJob takes in a job's YAML, or a ZIP as exportJob makes it.
func (s *Server) importJob(ctx context.Context, in *struct {
	ID      string `query:"id" pattern:"^[A-Za-z0-9_-]{1,40}$" maxLength:"40" doc:"of the new job; one is made where left out"`
	RawBody []byte
}) (*struct{ Body Imported }, error) {
	b, err := unpack(in.RawBody)
	if err != nil {
		return nil, err
	}
	d, err := draftOf(b.job, "taken in from files")
	if err != nil {
		return nil, err
	}
	if in.ID == "" {
		in.ID = notebook.NewID()
	}
	var out Imported
	if err := s.importShop(ctx, b, &out); err != nil {
		return nil, err
	}
	who := asking(ctx).actor()
	h, err := s.store.Create(ctx, who, in.ID, d)
	if err != nil {
		return nil, err
	}
	done, err := s.store.Append(ctx, who, in.ID, b.records)
	if err != nil {
		return nil, err
	}
	h.Seq += int64(len(done))
	out.Job, out.Records = jobHead(&h), len(done)
	if b.damaged > 0 {
		out.Left = strings.TrimPrefix(out.Left+"; "+itoa(b.damaged)+" lines of the notebook are no entries", "; ")
	}
	return &struct{ Body Imported }{out}, nil
}

// importShop keeps a bundle's files of the shop, unless the shop has others of those
// names: they are never overwritten by an import.
func (s *Server) importShop(ctx context.Context, b *bundle, out *Imported) error {
	for _, f := range b.shop {
		if !shopName.MatchString(f.Name) {
			continue
		}
		title, err := shop.Check(f.Kind, f.Name, f.Text)
		var name *shop.NameError
		if errors.As(err, &name) {
			continue
		}
		if err != nil {
			return err
		}
		_, err = s.store.Put(ctx, asking(ctx).actor(), string(f.Kind), f.Name, "", store.Draft{Text: f.Text, Title: title, Note: "taken in with a job"})
		if _, other := asConflict(err); other {
			out.Left = strings.TrimPrefix(out.Left+"; the shop's "+string(f.Kind)+" hold another "+f.Name+", which stays as it is", "; ")
			continue
		}
		if err != nil {
			return err
		}
		switch f.Kind {
		case shop.Kits:
			out.Kit = f.Name
		case shop.Yards:
			out.Yard = f.Name
		case shop.Prices:
			out.Prices = f.Name
		}
	}
	return nil
}

// bundle is what a file that was sent holds.
type bundle struct {
	job     string
	shop    []making.File // those that the job names
	records []record.Record
	damaged int
}

// mostUnpacked bounds what a ZIP may hold, whatever it says of itself.
const mostUnpacked = 64 << 20

// unpack reads a YAML text or a ZIP of it and its companions.
func unpack(data []byte) (*bundle, error) {
	if !bytes.HasPrefix(data, []byte("PK\x03\x04")) {
		return &bundle{job: string(data)}, nil
	}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil || len(z.File) > 2000 {
		return nil, huma.NewError(http.StatusUnsupportedMediaType, "this is no ZIP that can be read")
	}
	files := map[string][]byte{}
	left := int64(mostUnpacked)
	for _, f := range z.File {
		// Only names are looked at: nothing is written anywhere.
		name := path.Base(strings.ReplaceAll(f.Name, `\`, "/"))
		if strings.HasPrefix(f.Name, "photos/") || f.FileInfo().IsDir() {
			continue
		}
		r, err := f.Open()
		if err != nil {
			return nil, huma.NewError(http.StatusUnsupportedMediaType, "the ZIP is damaged")
		}
		text, err := io.ReadAll(io.LimitReader(r, left+1))
		_ = r.Close() // it was only read
		if err != nil {
			return nil, huma.NewError(http.StatusUnsupportedMediaType, "the ZIP is damaged")
		}
		if left -= int64(len(text)); left < 0 {
			return nil, huma.NewError(http.StatusRequestEntityTooLarge, "the ZIP holds more than "+size(mostUnpacked))
		}
		files[name] = text
	}
	return sorted(files)
}

// sorted finds what each file of a ZIP is.
func sorted(files map[string][]byte) (*bundle, error) {
	b := &bundle{}
	jobName := making.JobFile
	if files[jobName] == nil {
		for name, text := range files {
			if !strings.HasSuffix(name, ".yaml") && !strings.HasSuffix(name, ".yml") {
				continue
			}
			if _, err := job.Read(name, text); err == nil && (files[jobName] == nil || name < jobName) {
				jobName = name
			}
		}
	}
	if files[jobName] == nil {
		return nil, huma.NewError(http.StatusUnsupportedMediaType, "the ZIP holds no job that can be read")
	}
	b.job = string(files[jobName])
	if n, err := making.Named(b.job); err == nil {
		for _, f := range []making.File{{Kind: shop.Kits, Name: n.Kit}, {Kind: shop.Yards, Name: n.Yard}, {Kind: shop.Prices, Name: n.Prices}} {
			if files[f.Name] != nil && f.Name != jobName {
				f.Text = string(files[f.Name])
				b.shop = append(b.shop, f)
			}
		}
	}
	book := notebook.Read(files[notebook.Path(jobName)])
	b.damaged = len(book.Damaged)
	for i := range book.Entries {
		line, err := book.Entries[i].Line()
		if err != nil {
			return nil, err
		}
		r := record.Record{Kind: record.Note, Note: line}
		if r.Check() != nil {
			b.damaged++
			continue
		}
		b.records = append(b.records, r)
	}
	for line := range bytes.Lines(files[recordsFile]) {
		if len(bytes.TrimSpace(line)) == 0 {
			continue
		}
		r, err := record.Read(line)
		if err != nil || len(line) > document.MaxBytes {
			b.damaged++
			continue
		}
		b.records = append(b.records, r)
	}
	return b, nil
}
