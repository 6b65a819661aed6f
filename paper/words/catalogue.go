package words

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"github.com/goccy/go-yaml"
	"golang.org/x/text/language"

	"stallwright/engine/measure"
)

// English is the language that every other is held to, and the one of a job that
// names none.
const English = "en"

//go:embed catalogue
var shipped embed.FS

// about is the file of a language's folder that holds no messages.
const about = "language.yaml"

// Language is one that a catalogue speaks.
type Language struct {
	Tag     string // BCP 47, such as "es"
	Name    string // in itself, such as "español"
	Numbers string // BCP 47, the region whose decimal sign it writes where a job names none
}

// Catalogue is messages in several languages. It may be used by several
// goroutines at once.
type Catalogue struct {
	languages []Language
	matcher   language.Matcher
	sources   map[string][]fs.FS // by tag, the later over the earlier
	mu        sync.Mutex
	read      map[string]*entries // by tag, once wanted
}

// entries is all messages of one language.
type entries struct {
	keys []string // in the order of areas, then as written
	of   map[string]*entry
}

// Shipped is the catalogue that comes with the program.
var Shipped = sync.OnceValues(func() (*Catalogue, error) { return Open() })

// Open is the shipped catalogue with further folders: each dir holds one folder a
// language, as catalogue/ of this package does. An entry there is used before a
// shipped one, so that a shop can say a thing in its own words. The error names
// the file and the entry that is wrong.
func Open(dirs ...fs.FS) (*Catalogue, error) {
	base, err := fs.Sub(shipped, "catalogue")
	if err != nil {
		return nil, err
	}
	c := &Catalogue{sources: map[string][]fs.FS{}, read: map[string]*entries{}}
	for _, dir := range append([]fs.FS{base}, dirs...) {
		if err := c.add(dir); err != nil {
			return nil, err
		}
	}
	slices.SortFunc(c.languages, func(a, b Language) int {
		if (a.Tag == English) != (b.Tag == English) {
			return map[bool]int{true: -1, false: 1}[a.Tag == English]
		}
		return strings.Compare(a.Tag, b.Tag)
	})
	var tags []language.Tag
	for _, l := range c.languages {
		tags = append(tags, language.Make(l.Tag))
	}
	c.matcher = language.NewMatcher(tags)
	for _, l := range c.languages { // a folder from outside is judged whole, before any paper
		if len(c.sources[l.Tag]) > 1 || len(dirs) > 0 {
			if _, err := c.entries(l.Tag); err != nil {
				return nil, err
			}
		}
	}
	return c, nil
}

// add takes the languages of one folder.
func (c *Catalogue) add(dir fs.FS) error {
	folders, err := fs.ReadDir(dir, ".")
	if err != nil {
		return err
	}
	for _, f := range folders {
		if !f.IsDir() {
			continue
		}
		tag, err := language.Parse(f.Name())
		if err != nil {
			return fmt.Errorf("the folder %s of the catalogue: its name is no language; write en, es or pt-BR", f.Name())
		}
		sub, err := fs.Sub(dir, f.Name())
		if err != nil {
			return err
		}
		l := Language{Tag: f.Name(), Name: f.Name(), Numbers: tag.String()}
		known := slices.IndexFunc(c.languages, func(o Language) bool { return o.Tag == l.Tag })
		if known >= 0 {
			l = c.languages[known]
		}
		if err := readAbout(sub, &l); err != nil {
			return err
		}
		if known >= 0 {
			c.languages[known] = l
		} else {
			c.languages = append(c.languages, l)
		}
		c.sources[l.Tag] = append(c.sources[l.Tag], sub)
	}
	return nil
}

// readAbout reads what a language's folder says of the language.
func readAbout(dir fs.FS, l *Language) error {
	text, err := fs.ReadFile(dir, about)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	var doc struct {
		Name    string `yaml:"name"`
		Numbers string `yaml:"numbers"`
	}
	if err := yaml.UnmarshalWithOptions(text, &doc, yaml.Strict()); err != nil {
		return fmt.Errorf("%s/%s: %w", l.Tag, about, err)
	}
	if doc.Name != "" {
		l.Name = doc.Name
	}
	if doc.Numbers != "" {
		if _, err := language.Parse(doc.Numbers); err != nil {
			return fmt.Errorf("%s/%s: numbers %q is no language and region; write one such as es-MX", l.Tag, about, doc.Numbers)
		}
		l.Numbers = doc.Numbers
	}
	return nil
}

// Languages lists what the catalogue speaks, English first.
func (c *Catalogue) Languages() []Language { return slices.Clone(c.languages) }

// entries reads the messages of a language, once.
func (c *Catalogue) entries(tag string) (*entries, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if e := c.read[tag]; e != nil {
		return e, nil
	}
	e := &entries{of: map[string]*entry{}}
	for _, dir := range c.sources[tag] {
		files, err := fs.Glob(dir, "*.yaml")
		if err != nil {
			return nil, err
		}
		for _, name := range files {
			if name == about {
				continue
			}
			if err := e.add(dir, name); err != nil {
				return nil, fmt.Errorf("%s/%s: %w", tag, name, err)
			}
		}
	}
	c.read[tag] = e
	return e, nil
}

// add takes the messages of one file.
func (e *entries) add(dir fs.FS, name string) error {
	text, err := fs.ReadFile(dir, name)
	if err != nil {
		return err
	}
	keys, of, err := readMessages(text)
	if err != nil {
		return err
	}
	area := strings.TrimSuffix(path.Base(name), ".yaml")
	for _, k := range keys {
		full := area + "." + k
		if e.of[full] == nil {
			e.keys = append(e.keys, full)
		}
		e.of[full] = of[k]
	}
	return nil
}

// For is the catalogue's words in a language, BCP 47 ("es", "es-MX"; "" is
// English), for people whose tapes are marked in units. A region without a folder
// of its own is said in its language and counted as the region counts. The error
// lists the languages there are.
func (c *Catalogue) For(lang string, units measure.System) (*Words, error) {
	if lang == "" {
		lang = English
	}
	wanted, err := language.Parse(lang)
	if err != nil {
		return nil, fmt.Errorf("%q is no language; %s", lang, c.choice())
	}
	_, at, sure := c.matcher.Match(wanted)
	if sure < language.High {
		return nil, fmt.Errorf("there are no words in %q; %s", lang, c.choice())
	}
	l := c.languages[at]
	own, err := c.entries(l.Tag)
	if err != nil {
		return nil, err
	}
	english, err := c.entries(English)
	if err != nil {
		return nil, err
	}
	numbers := language.Make(l.Numbers)
	if _, sure := wanted.Region(); sure == language.Exact {
		numbers = wanted
	}
	return newWords(l, own, english, numbers, units), nil
}

// choice tells which languages there are.
func (c *Catalogue) choice() string {
	var tags []string
	for _, l := range c.languages {
		tags = append(tags, l.Tag+" ("+l.Name+")")
	}
	return "there are " + strings.Join(tags, ", ")
}

// For is the shipped catalogue's words in a language; see Catalogue.For.
func For(lang string, units measure.System) (*Words, error) {
	c, err := Shipped()
	if err != nil {
		return nil, err
	}
	return c.For(lang, units)
}
