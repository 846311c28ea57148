package lettering

import (
	"bytes"
	"embed"
	"fmt"
	"sync"

	"github.com/go-text/typesetting/font"
)

//go:embed fonts
var files embed.FS

// Weight is how heavy letters are.
type Weight int

// The weights.
const (
	Regular Weight = iota
	Bold
)

// Face is one font in one weight.
type Face struct {
	File string // its name in the folder fonts
	data func() []byte
	font func() *font.Font
}

// Data is the font as a TrueType file. It is shared: do not alter it.
func (f *Face) Data() []byte { return f.data() }

// faces lists the fonts by weight, in the order in which they are asked for a
// character. They are read when first needed: most work needs one or two.
var faces = func() (all [2][]*Face) {
	for _, script := range []string{"", "Hebrew", "Arabic", "Armenian", "Georgian", "Devanagari", "Thai"} {
		all[Regular] = append(all[Regular], newFace("NotoSans"+script+"-Regular.ttf"))
		all[Bold] = append(all[Bold], newFace("NotoSans"+script+"-Bold.ttf"))
	}
	cjk := newFace("WenQuanYiMicroHei-Regular.ttf")
	return [2][]*Face{append(all[Regular], cjk), append(all[Bold], cjk)}
}()

// Faces lists the fonts of a weight, the one for most text first.
func Faces(w Weight) []*Face { return faces[w] }

func newFace(file string) *Face {
	data := sync.OnceValue(func() []byte {
		b, err := files.ReadFile("fonts/" + file)
		if err != nil {
			panic(fmt.Sprintf("lettering: %v", err)) // it is part of the program
		}
		return b
	})
	return &Face{file, data, sync.OnceValue(func() *font.Font {
		f, err := font.ParseTTF(bytes.NewReader(data()))
		if err != nil {
			panic(fmt.Sprintf("lettering: the font %s cannot be read: %v", file, err)) // its bytes are those that were tested
		}
		return f.Font
	})}
}
