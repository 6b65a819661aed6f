// Package words says in a crew's language what the engine has to tell: it renders
// a phrase.Phrase by a message catalogue, with numbers, lengths, masses and lists
// as that language and the job's tape write them.
//
//	w, err := words.For("es", measure.FeetInches)
//	w.Say(phrase.Of("build.bolts", phrase.With("n", phrase.Count(8))))
//
// # Catalogues
//
// A catalogue is a folder of files, catalogue/<language>/<area>.yaml. The key of a
// phrase is its area, a dot and its entry: "build.bolts" is the entry bolts of
// build.yaml. An entry is a text, or one text for each plural form of the
// language:
//
//	stand-post: "Stand post {post} and hold it with a brace."
//	bolts:
//	  one: "{n} bolt"
//	  other: "{n} bolts"
//
// A value stands in the text as its name in braces; {^name} begins with a capital;
// {{ is a brace. The count named n chooses the plural form, by the rules of
// Unicode CLDR; a text with two counts takes the second as a phrase of its own.
// A text of two paragraphs or with a choice of wording is two entries. Every value
// named in one language must be named in all: tests hold the catalogues to each
// other and to the keys that the program uses.
//
// The file language.yaml of a folder says the language's own name and the region
// whose numbers it writes. A language is added by a folder, with no code: in the
// program by adding it to catalogue/, for one run with Open and any fs.FS.
//
// What a catalogue lacks is said in English behind the mark "[en]", and what
// English lacks too as its key in brackets: paper never comes out with a gap that
// nobody sees.
package words
