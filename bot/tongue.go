package bot

import (
	"embed"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"github.com/leonelquinteros/gotext"
)

// tongue is a language that people are answered in: one of Tongues. The English stands in
// the source; the other languages are looked up by it in po/LANGUAGE/*.po, which a translator
// edits. What has no entry there is said in English.
type tongue string

// The languages.
const (
	english tongue = "en"
	spanish tongue = "es"
	french  tongue = "fr"
)

// Tongues are the languages that people are answered in.
func Tongues() []string { return []string{string(english), string(spanish), string(french)} }

// tongueNamed is the tongue of a language's code, of which a locale may follow ("es-MX"), or
// another where people are not answered in that one.
func tongueNamed(code string, other tongue) tongue {
	base, _, _ := strings.Cut(strings.ReplaceAll(strings.ToLower(code), "_", "-"), "-")
	if slices.Contains(Tongues(), base) {
		return tongue(base)
	}
	return other
}

// say words something: a format of fmt, in English, and its values. The English is a literal,
// or comes out of a table whose entries are marked with msg, so that a test finds it.
func (l tongue) say(format string, args ...any) string {
	if c := catalogues[l]; c != nil {
		if said := c()[format]; said != "" {
			format = said
		}
	}
	if len(args) == 0 {
		return format // a percent sign stands for itself
	}
	return fmt.Sprintf(format, args...)
}

// msg marks a text in a table as one that say words later. It changes nothing.
func msg(text string) string { return text }

//go:embed po
var po embed.FS

// catalogues are read when a language is first used.
var catalogues = map[tongue]func() map[string]string{
	spanish: sync.OnceValue(func() map[string]string { return catalogue(spanish) }),
	french:  sync.OnceValue(func() map[string]string { return catalogue(french) }),
}

// catalogue reads all files of a language as one.
func catalogue(l tongue) map[string]string {
	files, err := fs.Glob(po, "po/"+string(l)+"/*.po")
	if err != nil {
		panic(err) // cannot happen: the pattern is fixed
	}
	var all []byte
	for _, f := range files {
		text, err := po.ReadFile(f)
		if err != nil {
			panic(err) // cannot happen: the file is embedded
		}
		all = append(append(all, text...), '\n')
	}
	c := gotext.NewPo()
	c.Parse(all)
	entries := map[string]string{}
	for text, e := range c.GetDomain().GetTranslations() {
		entries[text] = e.Trs[0]
	}
	delete(entries, "") // the header
	return entries
}
