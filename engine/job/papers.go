package job

import (
	"net/url"
	"strings"

	"stallwright/engine/document"
)

// Papers says how what goes out on paper is made.
type Papers struct {
	document.Where `yaml:"-" json:"-"`

	Address string `yaml:"address" doc:"where the app answers, as https://stalls.example/open: the codes on labels lead there; they hold the piece's label alone where left out"`
}

// IsAddress says whether a text is an address that a code may lead to: http or
// https, with a host, and without a part that no server sees.
func IsAddress(text string) bool {
	u, err := url.Parse(text)
	return err == nil && (u.Scheme == "https" || u.Scheme == "http") && u.Host != "" && u.Fragment == "" && u.User == nil &&
		!strings.ContainsAny(text, " \t\r\n") && len(text) <= longestAddress
}

// longestAddress keeps the codes of labels coarse enough to be read off a board:
// with job and piece a code then stays under 300 bytes.
const longestAddress = 120

func (c *checker) papers(p *Papers) {
	if p == nil || p.Address == "" || IsAddress(p.Address) {
		return
	}
	c.r.Add(p.Of("address"), "papers.address", p.Address, "this is no address that a code can lead to", "write it as https://stalls.example/open, 120 characters at most")
}
