package document

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"
)

// maxBlankLines is how many empty lines may follow each other. The YAML scanner
// takes time in proportion to the square of such a run inside a block of text.
const maxBlankLines = 50

// guard looks at the text as bytes and lines, before anything is made of it. It
// returns the text as the YAML scanner should see it, and false if something is
// wrong with it.
func (r *Reporter) guard() (string, bool) {
	raw, before := r.src.raw, r.Len()
	switch {
	case len(raw) > MaxBytes:
		r.Add(Pos{File: r.src.file}, "", "",
			fmt.Sprintf("the text is too long: %s, and at most %s can be read", megabytes(len(raw)), megabytes(MaxBytes)),
			"split it, or check that it is the right file")
		return "", false
	case bytes.HasPrefix(raw, []byte("\xff\xfe")), bytes.HasPrefix(raw, []byte("\xfe\xff")):
		r.Add(r.src.at(1, 1), "", "", "the text is in UTF-16, not in UTF-8", "save the file with the encoding UTF-8")
		return "", false
	}
	for i, line := range r.src.lines {
		if r.full() {
			break
		}
		r.guardLine(i+1, line)
	}
	r.guardBlank()
	r.guardMarks()
	if r.Len() > before {
		return "", false
	}
	text := make([]string, len(r.src.lines))
	for i, line := range r.src.lines {
		text[i] = line
		if strings.TrimLeft(line, " \t") == "" {
			// White space alone means nothing to a person, but upsets the scanner.
			text[i] = ""
		}
	}
	// The scanner misreads a folded text that ends without a line break.
	return strings.Join(text, "\n") + "\n", true
}

// guardLine reports the first byte that is not UTF-8, the first character nobody
// can see, and tabs as indentation.
func (r *Reporter) guardLine(number int, line string) {
	column := 1
	for i, c := range line {
		if c == utf8.RuneError {
			if _, n := utf8.DecodeRuneInString(line[i:]); n == 1 {
				r.Add(r.src.at(number, column), "", "",
					fmt.Sprintf("the byte 0x%02X (byte %d of the line) is not UTF-8", line[i], i+1),
					"save the file with the encoding UTF-8")
				return
			}
		}
		if c != '\t' && isControl(c) {
			r.Add(r.src.at(number, column), "", "",
				fmt.Sprintf("an invisible control character (U+%04X) stands here", c), "delete it")
			return
		}
		column++
	}
	if bare := strings.TrimLeft(line, " \t"); bare != "" {
		if at := strings.IndexByte(line[:len(line)-len(bare)], '\t'); at >= 0 {
			r.Add(r.src.at(number, at+1), "", "\t", "this line is indented with a tab", "indent with spaces only, two for each level")
		}
	}
}

func (r *Reporter) guardBlank() {
	run := 0
	for i, line := range r.src.lines {
		if strings.TrimLeft(line, " \t") != "" {
			run = 0
			continue
		}
		if run++; run == maxBlankLines+1 {
			r.Add(r.src.at(i+1, 1), "", "", fmt.Sprintf("more than %d empty lines follow each other", maxBlankLines), "delete the empty lines")
		}
	}
}

// maxMarks is how many punctuation marks and lines a text may have. Each makes the
// scanner use some hundred bytes.
const maxMarks = 400_000

func (r *Reporter) guardMarks() {
	marks := 0
	for i, line := range r.src.lines {
		for _, c := range []byte(line) {
			switch c {
			case '[', ']', '{', '}', ',', ':', '-', '?', '&', '*', '!', '\'', '"', '|', '>', '%':
				marks++
			}
		}
		if marks++; marks > maxMarks {
			r.Add(r.src.at(i+1, 1), "", "", fmt.Sprintf("the text is too long: more than %d lines and punctuation marks", maxMarks), "split it, or check that it is the right file")
			return
		}
	}
}

func megabytes(n int) string {
	if n > MaxBytes {
		n += 1 << 20 / 10 // so that a text a byte too long is not shown as fitting
	}
	return fmt.Sprintf("%d.%d MiB", n>>20, n&(1<<20-1)*10>>20)
}
