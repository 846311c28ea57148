package tui_test

import (
	"fmt"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering/sample"
	"example.org/tuckrow/tui/binders"
	"example.org/tuckrow/tui/buying"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/collection"
	"example.org/tuckrow/tui/find"
	"example.org/tuckrow/tui/intake"
	"example.org/tuckrow/tui/press"
	"example.org/tuckrow/tui/refile"
	"example.org/tuckrow/tui/sewing"
	"example.org/tuckrow/tui/shelf"
	"example.org/tuckrow/tui/split"
	"example.org/tuckrow/tui/stocktake"
)

// Invented publishers and pattern names that are long, wide, of letters in
// several parts, of pictures in several parts, and written from right to left.
var (
	awkwardPublishers = []string{
		"Harrow & Pell", "霜月縫製図譜", "Étoffes de Brindille-sous-Ombre, maison d'ouvrages et de patrons réunis", "Q\u0323\u0307uillo\u0328\u0301n\u0302\u0323",
		"👩‍👩‍👧‍👦 Atelier 🇫🇷🇩🇪", "תבניות הקשת הכחולה", "دار الخياطة الزرقاء",
	}
	awkwardNames = []string{
		"Wrap dress", "夏の長いドレス、襟付き、ポケット二つ、裏地なし", "Half-circle skirt with godets, a yoke, patch pockets and a detachable bow at the back",
		"R\u0323\u0307obe e\u0301vase\u0301e", "👗 set 👩🏽‍🦱 🏳️‍🌈 ❤️", "שמלת מעטפת ארוכה", "معطف شتوي طويل بقلنسوة",
	}
	awkwardNumbers = []string{"6123 H5", "１２３ 夏", "K-100", "", "❤️ 7", "א 4107", "٤٢"}
)

// awkwardCupboard has all of these in two boxes and on the pile, some of them
// out, some of them misplaced.
func awkwardCupboard(tb testing.TB) *model.Collection {
	tb.Helper()
	add := &model.Add{}
	for i, publisher := range awkwardPublishers {
		for k, name := range awkwardNames {
			add.Entries = append(add.Entries, model.Entry{Publisher: publisher, Number: awkwardNumbers[(i+k)%len(awkwardNumbers)], Name: name,
				SizeRange: "10-16", Category: []string{"Dresses", "外套", "חצאיות"}[k%3], Batch: []string{"廊下の引き出し", "מגירה", "hall"}[i%3]})
		}
	}
	rows := []model.NamedRow{{Box: "箱 1"}, {Box: "תיבה"}}
	for i := range add.Entries {
		if a := model.Accession(i + 1); i%5 < 4 {
			row := &rows[i*2/len(add.Entries)]
			row.Copies = append(row.Copies, a)
		}
	}
	first := rows[0].Copies
	first[2], first[9] = first[9], first[2]
	events := []sample.Event{}
	for _, ch := range []model.Change{
		&model.SetShelf{Spec: model.ShelfSpec{
			Settings: model.DefaultSettings(),
			Sections: []model.SectionSpec{{Title: "霜月", Publishers: []string{"霜月縫製図譜", "Harrow & Pell"}}, {Title: "כל השאר", Publishers: []string{"*"}}},
			Boxes: []model.BoxSpec{{Name: "箱 1", Length: model.MM(380), Place: "廊下, column 1, row 1"}, {Name: "תיבה", Length: model.MM(320), Place: "廊下, column 2, row 1"},
				{Name: "2", Length: model.MM(380), Place: "廊下, column 1, row 2"}, {Name: "خزانة", Length: model.MM(380), Place: "廊下, column 2, row 2"}},
		}},
		add, &model.Stand{Rows: rows}, &model.TakeOut{Copy: first[3], To: "השכנה ממול, קומה שלישית"}, &model.TakeOut{Copy: first[5], To: "隣の人"},
	} {
		events = append(events, sample.Event{On: "2026-03-01", Change: ch})
	}
	c, err := sample.Story{Events: events}.Collection()
	if err != nil {
		tb.Fatal(err)
	}
	return c
}

var awkwardScenes = []struct {
	name, room string
	keys       []string
}{
	{"intake_left", intake.ID, nil},
	{"intake_owned", intake.ID, []string{"shift+tab", "'霜", "enter", "'k100"}},
	{"intake_typing", intake.ID, []string{"'１２ 👩‍👩‍👧", "enter", "'שמלה e\u0301 夏の長いドレス、襟付き、ポケット二つ、裏地なし、夏の長いドレス", "left", "left"}},
	{"intake_steps", intake.ID, []string{"ctrl+t", "down", "space"}},
	{"find", find.ID, []string{"'夏", "down"}},
	{"find_out", find.ID, nil},
	{"find_lending", find.ID, []string{"'שמלת", "ctrl+l", "'隣の人"}},
	{"same_picking", find.ID, []string{"'夏", "ctrl+y", "enter", "'夏の"}},
	{"same_joining", find.ID, []string{"'夏", "ctrl+y", "enter", "'שמלת", "enter"}},
	{"refile", refile.ID, nil},
	{"refile_pull", refile.ID, []string{"enter", "'s", "'n"}},
	{"refile_sort", refile.ID, []string{"enter", "tab"}},
	{"refile_put", refile.ID, []string{"enter", "tab", "tab", "enter"}},
	{"split", split.ID, []string{"down"}},
	{"split_labels", split.ID, []string{"'p"}},
	{"split_confirm", split.ID, []string{"'l", "'200", "enter", "enter"}},
	{"print", press.ID, nil},
	{"print_text", press.ID, []string{"'f"}},
	{"shelf", shelf.ID, nil},
	{"shelf_box", shelf.ID, []string{"enter", "down", "down"}},
	{"shelf_reading", shelf.ID, []string{"'r", "'k100", "enter", "'#3", "enter", "'夏の", "enter"}},
	{"shelf_edit", shelf.ID, []string{"'e"}},
	{"shelf_form", shelf.ID, []string{"'e", "enter", "tab", "tab"}},
	{"sewing", sewing.ID, []string{"'q", "down", "'q", "down"}},
	{"sewing_made", sewing.ID, []string{"'m", "'隣の人", "tab", "'夏の長いドレス、襟付き", "enter", "down", "'m", "'השכנה ממול", "enter", "tab"}},
	{"sewing_shares", sewing.ID, []string{"tab", "tab", "'n", "'夏の", "tab", "'外套; חצאיות", "enter", "end"}},
	{"sewing_closet", sewing.ID, []string{"shift+tab", "'n", "'隣の人", "tab", "'92 cm", "enter", "'n", "'שכנה", "enter", "end", "'n", "'青い羊毛", "tab", "'140 cm", "tab", "'2 m", "enter"}},
	{"collection_worth", collection.ID, []string{"tab", "'n", "'霜月縫製図譜", "tab", "'12.50", "enter", "'n", "'תבניות הקשת הכחולה", "tab", "'3", "enter"}},
	{"collection_batches", collection.ID, []string{"tab", "tab", "enter", "'隣の人", "tab", "'شباب قديم", "enter", "down"}},
	{"stocktake", stocktake.ID, nil},
	{"stocktake_counting", stocktake.ID, []string{"enter", "space", "space", "'夏の", "enter"}},
	{"stocktake_differs", stocktake.ID, []string{"enter", "space", "'夏の", "enter", "ctrl+e", "enter", "tab"}},
	{"buying", buying.ID, []string{"'夏の", "down"}},
	{"buying_form", buying.ID, []string{"'霜月 12 夏の長いドレス", "enter", "shift+tab"}},
	{"buying_spare", buying.ID, []string{"tab", "down"}},
	{"binders", binders.ID, []string{"right", "down", "down"}},
	{"binders_sleeve", binders.ID, []string{"right", "tab", "space"}},
	{"binders_chosen", binders.ID, []string{"'c", "'夏の", "enter", "down"}},
	{"binders_form", binders.ID, []string{"'c", "'夏の", "tab", "'חצ"}},
}

// A golden file holds a scene at all three sizes.
func TestGoldenNames(t *testing.T) {
	for _, s := range awkwardScenes {
		p := onSample(t, s.room, awkwardCupboard(t))
		p.keys(s.keys...)
		var b strings.Builder
		for _, size := range threeSizes {
			p.size(size[0], size[1])
			fmt.Fprintf(&b, "-- %dx%d\n%s\n", size[0], size[1], p.root.View())
		}
		goldenPart(t, filepath.Join("names", s.name), b.String())
	}
}

func TestAwkwardNamesFitEverySize(t *testing.T) {
	for _, s := range awkwardScenes {
		p := onSample(t, s.room, awkwardCupboard(t))
		p.keys(s.keys...)
		p.fitsEverySize(s.name)
	}
}

// Beginnings of names that no number and no publisher has.
const nameStarts = `Wrap|夏の|Half|\x{1e5a}\x{307}ob|👗|שמלת|معطف`

// tables are the tables of the screens: what a row looks like, and in it, in
// groups, what must stand under each other: a group named r by its end.
var tables = []struct {
	scene string
	row   string
	least int // rows at 80x24
	from  int // the width from which they are columns
}{
	{"intake_left", `^  .*[^\d·](?P<r>\d+|·) +(?P<r>\d+|·) +(?P<r>\d+|·) +(?P<r>\d+|·)$`, 3, 0},
	{"intake_typing", `^[→ ] (?:Publisher|Number|Name|Category|Batch) +([^ ▏])`, 5, 0},
	{"intake_steps", `^(?:→|  ?✓)? *(?P<r>\d+)  (\S).* (` + nameStarts + `)`, 15, 0},
	{"find", `^[→ ] (\S)[^·]*(` + nameStarts + `)[^·]* (box|on the)[^·]*$`, 8, 0},
	{"find_lending", `^[→ ] (\S)[^·]*(` + nameStarts + `)[^·]* (box|on the)[^·]*$`, 7, 0},
	{"find_out", `^[→ ] (\S)[^·]*(` + nameStarts + `)[^·]* (out)[^·]*$`, 2, 0},
	{"same_picking", `^[→ ] (\S).* (夏の).* (1 copy) *$`, 3, 0},
	{"same_joining", `^[→ ] (?:publisher|number|name|size range|category) +([✓ ]) \S.*  ?([✓ ]) \S.*$`, 3, 0},
	{"refile", `^ +(box) .* (?P<r>pull \d+) +(?P<r>put in \d+) +(?P<r>\d+ then) +(?P<r>\d+ mm) free`, 2, 0},
	{"refile_pull", `^ +!? +(box) (?:箱…|箱 1) +(?:6123|１２|K-1|❤|א|٤)[^·]* (` + nameStarts + `)[^·]*$`, 3, 0},
	{"split", `^[→ ] .*(┃)[^┃]*┃ +(?P<r>[-!]?\d+ mm)`, 6, 0},
	{"split", `^   plan .*┃ +(?P<r>[-!]?\d+ mm).* (→) `, 2, 0},
	{"split_labels", `^ (box) [^É]*? (before|from) `, 5, 64},
	{"shelf", `(┃)[█·]* *┃ +(?P<r>\d+ mm) free.*(┃)[█·]* *┃ +(?P<r>\d+ mm) free`, 2, 0},
	{"shelf_box", `^[→ ] +(?P<r>\d+ mm)  .*(` + nameStarts + `).* (Harr|霜)[^ ]*(?: & P\S*)? *$`, 8, 60},
	{"shelf_reading", `^[!✓·] +(?P<r>\d+)  (\S).* (in place|unlisted|misplaced|can be)`, 2, 0},
	{"shelf_edit", `^[→ ] (?:settings|box|section|publisher|binder|hooks|         ) +(\S)`, 8, 0},
	{"shelf_form", `^[→ ] (?:name|length|place|locked) +([^ ▏])`, 4, 0},
	{"sewing", `^[→ ] +\S.* (never made) (┃) `, 8, 64},
	{"sewing_made", `^[→ ] 2\S+  +(\S)`, 2, 0},
	{"sewing_shares", `^[→ ] .*?(?P<r>\d+ of \d+) ([█·])`, 4, 0},
	{"sewing_closet", `^[→ ] (?:隣の人|שכנה).*(bust) .*(waist) .*(hip) `, 2, 80},
	{"collection_worth", `^[→ ] (?:霜月|תבניות|without|in all).*? (?P<r>\d+) .*\d\.\d\d *$`, 3, 0},
	{"collection_batches", `^[→ ] (?:廊下|מגירה|hall).*? (?P<r>\d+) +\d+ *$`, 3, 0},
	{"stocktake", `^[→ ] (?:箱 1|תיבה|2|خزانة)[^\d]*廊下, column \d, row \d +(?P<r>\d+) `, 2, 0},
	{"buying", `^[→ ] (\S)[^·]* (夏の)[^·]* (owned)`, 6, 0},
	{"buying_form", `^[→ ] (?:publisher|number|name) +([^ ▏])`, 3, 0},
	{"binders", `^[→ ] +(?P<r>\d+)  (\S)[^┃]* (` + nameStarts + `)[^┃]* (┃) `, 8, 64},
	{"binders", `(┃) (?:fits|envelope|cloth|made) +(\S)`, 1, 64},
	{"binders_chosen", `^[→ ] (\S)[^┃]* (夏の)[^┃]* (┃) `, 4, 64},
	{"binders_form", `^[→ ] (?:words|category) +([^ ▏])`, 2, 0},
}

// What stands in a column stands under what is above it, whatever is in the
// columns before: at all widths, since it is where a wide letter is cut in the
// middle that a column slips.
func TestColumnsStandStraightBesideAnyName(t *testing.T) {
	for _, table := range tables {
		row := regexp.MustCompile(table.row)
		for _, s := range awkwardScenes {
			if s.name != table.scene {
				continue
			}
			p := onSample(t, s.room, awkwardCupboard(t))
			p.keys(s.keys...)
			p.size(80, 24)
			if n := p.straight(s.name, row); n < table.least {
				t.Errorf("%s: %d rows look like %s, want %d\n%s", s.name, n, table.row, table.least, p.root.View())
			}
			for w := max(40, table.from); w <= 131; w += stride() {
				for _, h := range []int{12, 24, 40} {
					p.size(w, h)
					p.straight(fmt.Sprintf("%s at %dx%d", s.name, w, h), row)
				}
			}
		}
	}
}

// straight checks one table, and gives how many rows it has.
func (p *player) straight(what string, row *regexp.Regexp) int {
	p.Helper()
	var first []int
	n := 0
	for line := range strings.SplitSeq(p.root.View(), "\n") {
		found := row.FindStringSubmatchIndex(line)
		if found == nil {
			continue
		}
		n++
		var at []int
		for i, name := range row.SubexpNames() {
			switch {
			case i == 0:
			case name == "r":
				at = append(at, cells.Width(line[:found[2*i+1]]))
			default:
				at = append(at, cells.Width(line[:found[2*i]]))
			}
		}
		if first == nil {
			first = at
		}
		if !slices.Equal(at, first) {
			p.Fatalf("%s: columns at %v in %q, at %v above it\n%s", what, at, line, first, p.root.View())
		}
	}
	return n
}
