package shelf

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"example.org/tuckrow/model"
)

// grid is where the boxes stand, in columns and rows, as far as their places
// say so: "cupboard, column 1, row 2". Boxes whose place has no such number
// stand in one column, in the order of the shelf.
type grid struct {
	shelf *model.Shelf
	boxes []model.Box
	at    map[model.BoxID]int // column
	cols  []column
	rows  int
}

// column is the boxes above each other, by the line that they are on.
type column struct {
	head  string
	boxes []standing
}

type standing struct {
	box model.Box
	y   int
}

var (
	columnNumber = regexp.MustCompile(`(?i)\bcol(?:umn)?\.?\s*(\d{1,4})\b`)
	rowNumber    = regexp.MustCompile(`(?i)\brow\.?\s*(\d{1,4})\b`)
)

// place is what the place of a box says.
type place struct {
	in       string // what it stands in
	col, row int    // -1 where it is not said
}

func parsePlace(text string) place {
	p := place{in: text, col: -1, row: -1}
	for _, x := range []struct {
		re *regexp.Regexp
		to *int
	}{{columnNumber, &p.col}, {rowNumber, &p.row}} {
		if m := x.re.FindStringSubmatch(p.in); m != nil {
			*x.to, _ = strconv.Atoi(m[1]) // at most four digits
			p.in = strings.Replace(p.in, m[0], "", 1)
		}
	}
	var parts []string
	for part := range strings.SplitSeq(p.in, ",") {
		if part = strings.TrimSpace(part); part != "" {
			parts = append(parts, part)
		}
	}
	p.in = strings.Join(parts, ", ")
	return p
}

// stack is a column in the making.
type stack struct {
	place
	known bool // the place says column or row
	boxes []model.Box
	rows  []int
}

func newGrid(shelf *model.Shelf) *grid {
	g := &grid{shelf: shelf, boxes: shelf.Boxes, at: map[model.BoxID]int{}}
	stacks := stacked(shelf.Boxes)
	starts := startOfRows(stacks)
	for i, st := range stacks {
		c := column{head: st.head(len(stacks))}
		used := map[int]int{}
		order := make([]int, len(st.boxes))
		for k := range order {
			order[k] = k
		}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(st.rows[a], st.rows[b]) })
		for n, k := range order {
			y := n
			if st.known {
				y = starts[st.rows[k]] + used[st.rows[k]]
				used[st.rows[k]]++
			}
			c.boxes = append(c.boxes, standing{st.boxes[k], y})
			g.rows = max(g.rows, y+1)
			g.at[st.boxes[k].ID] = i
		}
		g.cols = append(g.cols, c)
	}
	return g
}

// stacked deals the boxes out to columns: piece of furniture by piece, each in
// the order of its column numbers; those with no numbers come last.
func stacked(boxes []model.Box) []*stack {
	var all []*stack
	of, furniture := map[place]*stack{}, map[string]int{}
	for _, b := range boxes {
		p := parsePlace(b.Place)
		known, row := p.col >= 0 || p.row >= 0, p.row
		if !known {
			p.in = ""
		}
		if row < 0 {
			row = math.MaxInt // behind those of which it is said
		}
		p.row = -1
		if !known {
			p.col = math.MaxInt
		}
		st := of[p]
		if st == nil {
			st = &stack{place: p, known: known}
			of[p] = st
			all = append(all, st)
			if _, seen := furniture[p.in]; !seen {
				furniture[p.in] = len(furniture)
			}
		}
		st.boxes, st.rows = append(st.boxes, b), append(st.rows, row)
	}
	slices.SortStableFunc(all, func(a, b *stack) int {
		if a.known != b.known {
			return map[bool]int{true: -1, false: 1}[a.known]
		}
		return cmp.Or(cmp.Compare(furniture[a.in], furniture[b.in]), cmp.Compare(a.col, b.col))
	})
	return all
}

// startOfRows gives each row number the line that it begins on, so that equal
// rows stand beside each other, also where several boxes share one.
func startOfRows(stacks []*stack) map[int]int {
	most := map[int]int{}
	for _, st := range stacks {
		if !st.known {
			continue
		}
		here := map[int]int{}
		for _, r := range st.rows {
			here[r]++
			most[r] = max(most[r], here[r])
		}
	}
	var rows []int
	for r := range most {
		rows = append(rows, r)
	}
	slices.Sort(rows)
	starts, y := map[int]int{}, 0
	for _, r := range rows {
		starts[r] = y
		y += most[r]
	}
	return starts
}

func (st *stack) head(of int) string {
	switch {
	case !st.known && of == 1:
		return ""
	case !st.known:
		return "elsewhere"
	case st.col < 0:
		return st.in
	case st.in == "":
		return fmt.Sprintf("column %d", st.col)
	}
	return fmt.Sprintf("%s, column %d", st.in, st.col)
}

// find gives the column of a box and its index in it.
func (g *grid) find(id model.BoxID) (col, i int) {
	col = g.at[id]
	return col, slices.IndexFunc(g.cols[col].boxes, func(st standing) bool { return st.box.ID == id })
}

// step goes to the box next to one, which is itself where there is none.
func (g *grid) step(id model.BoxID, dx, dy int) model.BoxID {
	col, i := g.find(id)
	if dx == 0 {
		return g.cols[col].boxes[max(0, min(i+dy, len(g.cols[col].boxes)-1))].box.ID
	}
	to := col + dx
	if to < 0 || to >= len(g.cols) {
		return id
	}
	y, best := g.cols[col].boxes[i].y, g.cols[to].boxes[0]
	for _, st := range g.cols[to].boxes {
		if abs(st.y-y) < abs(best.y-y) {
			best = st
		}
	}
	return best.box.ID
}

func abs(n int) int { return max(n, -n) }

func (g *grid) first() model.BoxID { return g.cols[0].boxes[0].box.ID }

func (g *grid) last() model.BoxID {
	boxes := g.cols[len(g.cols)-1].boxes
	return boxes[len(boxes)-1].box.ID
}
