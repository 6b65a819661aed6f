package packet

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
)

// content is what a folder of ours may hold: the file by which it is known, and
// which others.
type content struct {
	what string // in messages
	sign string
	ours func(name string, folder bool) bool
}

var (
	planContent  = content{"plan", "plan.json", ofPlan}
	offerContent = content{"offer", "offer.json", ofOffer}
)

// Files of an offer.
const (
	OfferName       = "offer.txt"  // for the customer
	OfferPDFName    = "offer.pdf"  // the same on paper
	OfferListName   = "offer.csv"  // line by line
	OfferOfficeName = "office.txt" // with costs
	OfferDataName   = "offer.json" // as data
)

func ofOffer(name string, folder bool) bool {
	switch name {
	case OfferName, OfferPDFName, OfferListName, OfferOfficeName, OfferDataName:
		return !folder
	}
	return false
}

// PDFName is the packet on paper, in a plan's folder.
const PDFName = "packet.pdf"

// NotOursError says that a folder holds something a plan would not.
type NotOursError struct {
	Dir  string
	Name string // what is there that no plan wrote
	what string // plan or offer
}

func (e *NotOursError) Error() string {
	return fmt.Sprintf("%s holds %s, which no %s wrote; move it away or choose another folder", e.Dir, e.Name, e.what)
}

// Write puts a packet into a folder, whole or not at all: the files are written
// beside it first, and a folder already there is replaced only when they are
// complete, and only if it holds nothing but a plan (else a NotOursError).
func Write(dir string, files []File) error { return write(dir, files, planContent) }

// WriteOffer puts an offer into a folder as Write does a packet.
func WriteOffer(dir string, files []File) error { return write(dir, files, offerContent) }

func write(dir string, files []File, c content) (err error) {
	dir = filepath.Clean(dir)
	if err := c.replaceable(dir); err != nil {
		return err
	}
	parent := filepath.Dir(dir)
	if err := os.MkdirAll(parent, 0o755); err != nil {
		return err
	}
	fresh, err := os.MkdirTemp(parent, ".stallwright-new-")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.RemoveAll(fresh))
		}
	}()
	if err := os.Chmod(fresh, 0o755); err != nil {
		return err
	}
	for _, f := range files {
		if err := writeFile(fresh, f); err != nil {
			return err
		}
	}
	return swap(dir, fresh, parent)
}

// replaceable refuses to replace what is not a plan.
func (c content) replaceable(dir string) error {
	info, err := os.Lstat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case !info.IsDir():
		return fmt.Errorf("%s is a file, not a folder", dir)
	}
	return c.only(dir)
}

// only walks a folder and refuses it if anything there is not ours: nothing a person
// put there may be lost.
func (c content) only(dir string) error {
	signed := false
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || path == dir {
			return err
		}
		name, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		name = filepath.ToSlash(name)
		signed = signed || name == c.sign
		if !c.ours(name, d.IsDir()) {
			return &NotOursError{dir, name, c.what}
		}
		return nil
	})
	if err == nil && !signed {
		if entries, readErr := os.ReadDir(dir); readErr != nil || len(entries) > 0 {
			return errors.Join(readErr, &NotOursError{dir, "files", c.what})
		}
	}
	return err
}

// ofPlan says whether a plan writes files of that name.
func ofPlan(name string, folder bool) bool {
	if folder {
		return name == drawingFolder
	}
	switch name {
	case "plan.json", "summary.txt", "pieces.csv", "cut-pieces.csv", "takeoff.csv", "picks.csv", "saw-tickets.csv", "setout.txt", "setout.csv", "steps.txt", OfferName, OfferListName, PDFName, CrewDaysName, TakeoffName, ModelName:
		return true
	}
	return path.Dir(name) == drawingFolder && (path.Ext(name) == ".svg" || path.Ext(name) == ".dxf")
}

func writeFile(dir string, f File) error {
	path := filepath.Join(dir, filepath.FromSlash(f.Name))
	if !filepath.IsLocal(filepath.FromSlash(f.Name)) {
		return fmt.Errorf("packet file %q leaves its folder", f.Name)
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	return os.WriteFile(path, f.Data, 0o644)
}

// swap moves the new folder into place. The old one is moved aside first and
// put back if that fails.
func swap(dir, fresh, parent string) error {
	if _, err := os.Lstat(dir); errors.Is(err, fs.ErrNotExist) {
		return os.Rename(fresh, dir)
	}
	old, err := os.MkdirTemp(parent, ".stallwright-old-")
	if err != nil {
		return err
	}
	aside := filepath.Join(old, "plan")
	if err := os.Rename(dir, aside); err != nil {
		return errors.Join(err, os.RemoveAll(old))
	}
	if err := os.Rename(fresh, dir); err != nil {
		return errors.Join(err, os.Rename(aside, dir), os.RemoveAll(old))
	}
	return os.RemoveAll(old)
}
