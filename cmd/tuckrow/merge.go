package main

import (
	"context"
	"slices"
	"strconv"
	"strings"

	"example.org/tuckrow/model"
	"github.com/spf13/cobra"
)

// twin is two patterns that could be one, in JSON.
type twin struct {
	Keep twinSide `json:"keep"` // the one that was entered first
	Gone twinSide `json:"gone"`
	Why  string   `json:"why"`
}

type twinSide struct {
	Pattern model.PatternID `json:"pattern"`
	Copy    model.Accession `json:"copy"` // the first of its copies
	What    string          `json:"what"`
}

func (a *app) mergeCommand() *cobra.Command {
	take, look := "", false
	cmd := a.reads(&cobra.Command{
		Use:   "merge [KEEP OTHER]",
		Short: "Two records turn out to be one pattern",
		Long: `Makes one pattern of two, named by the accession numbers of a copy of each: first
the one to keep. What it says stays; where it says nothing, and in the fields that
--take names, it says what the other did. Copies go over, with their notes and who
has them, and so do links, what was made and what is to be sewn. Nothing is lost: unmerge
takes it apart again. --look says what would come of it. Without numbers it lists
pairs that could be one.`,
		Example: "  tuckrow merge\n  tuckrow merge 97 412 --look\n  tuckrow merge 97 412 --take year,name",
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				if len(args) == 0 {
					return a.listTwins(s)
				}
				ids, err := patternsOfCopies(s.Collection(), args, 2)
				if err != nil {
					return err
				}
				ch := &model.Merge{Keep: ids[0], Gone: ids[1]}
				if take != "" {
					ch.Take = strings.Split(strings.ReplaceAll(take, " ", ""), ",")
				}
				if look {
					return a.lookAtMerge(s.Collection(), ch)
				}
				return a.commit(cmd.Context(), s, ch)
			})
		},
	})
	cmd.Flags().StringVar(&take, "take", "", "fields in which the other is right: "+strings.Join(model.Takes(), ", "))
	cmd.Flags().BoolVar(&look, "look", false, "say what would come of it, and change nothing")
	return cmd
}

// joint is what a merge would come to, in JSON.
type joint struct {
	Fields []jointField      `json:"fields"`
	Copies []model.Accession `json:"copies"` // that go over
	Makes  []model.MakeID    `json:"makes"`  // likewise, of the log
}

type jointField struct {
	Field string `json:"field"`
	Keep  string `json:"keep"`
	Other string `json:"other"`
	Will  string `json:"will"`
}

// lookAtMerge says what would come of a merge.
func (a *app) lookAtMerge(c *model.Collection, ch *model.Merge) error {
	j, err := ch.Look(c)
	if err != nil {
		return err
	}
	out := joint{[]jointField{}, append([]model.Accession{}, j.Copies...), append([]model.MakeID{}, j.Makes...)}
	rows := [][]string{{"", "to keep", "the other", "it will say"}}
	for _, s := range j.Said {
		out.Fields = append(out.Fields, jointField{s.Field, s.Kept, s.Gone, s.Will})
		s = s.InUnits(c.Shelf().Settings)
		rows = append(rows, []string{s.Field, s.Kept, s.Gone, s.Will})
	}
	if a.json {
		return a.printJSON(out)
	}
	if err := columns(a.out, rows); err != nil {
		return err
	}
	a.printf("%s would go over. Nothing is changed.\n", copies(len(j.Copies)))
	return nil
}

// copyNumbers reads accession numbers of copies that are there.
func copyNumbers(c *model.Collection, args []string) ([]model.Accession, error) {
	var out []model.Accession
	for _, arg := range args {
		n, err := strconv.Atoi(arg)
		if err != nil || c.Copy(model.Accession(max(0, n))) == nil {
			return nil, model.Inputf("%q is not the accession number of a copy; tuckrow find --json shows them", arg)
		}
		out = append(out, model.Accession(n))
	}
	return out, nil
}

// patternsOfCopies finds the patterns of so many copies.
func patternsOfCopies(c *model.Collection, args []string, n int) ([]model.PatternID, error) {
	copies, err := copyNumbers(c, args)
	if err != nil {
		return nil, err
	}
	if len(copies) != n {
		return nil, model.Inputf("%d accession numbers are needed, and %d are given; tuckrow find --json shows them", n, len(copies))
	}
	ids := make([]model.PatternID, n)
	for i, a := range copies {
		ids[i] = c.Copy(a).Pattern
	}
	return ids, nil
}

func (a *app) listTwins(s cupboard) error {
	c, out, rows, x := s.Collection(), []twin{}, [][]string(nil), s.Index()
	side := func(p *model.Pattern) twinSide { return twinSide{p.ID, x.Copies(p.ID)[0], c.Called(p.ID)} }
	for _, t := range x.Twins() {
		item := twin{side(t.A), side(t.B), t.Tie.String()}
		out = append(out, item)
		rows = append(rows, []string{"tuckrow merge", strconv.Itoa(int(item.Keep.Copy)), strconv.Itoa(int(item.Gone.Copy)), item.Keep.What, item.Gone.What, item.Why})
	}
	if a.json {
		return a.printJSON(out)
	}
	if len(out) == 0 {
		a.printf("no two patterns look like one.\n")
	}
	return columns(a.out, rows)
}

func (a *app) unmergeCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "unmerge COPY",
		Short:   "Take apart what was merged last into a pattern",
		Long:    "Takes apart what was merged last into the pattern of a copy, named by its\naccession number: both say again what they said, and copies go back.",
		Example: "  tuckrow unmerge 97",
		Args:    oneArg("the accession number of a copy"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withCopies(cmd.Context(), args, 1, func(ids []model.PatternID) model.Change { return &model.Unmerge{Pattern: ids[0]} })
		},
	}
}

// withCopies makes a change that is about the patterns of so many copies.
func (a *app) withCopies(ctx context.Context, args []string, n int, change func([]model.PatternID) model.Change) error {
	return a.withStore(func(s cupboard) error {
		ids, err := patternsOfCopies(s.Collection(), args, n)
		if err != nil {
			return err
		}
		return a.commit(ctx, s, change(ids))
	})
}

func (a *app) partCommand() *cobra.Command {
	var ch model.SplitPattern
	made := []uint{}
	cmd := &cobra.Command{
		Use:   "part COPY... [FIELD=VALUE...]",
		Short: "One record turns out to be two patterns",
		Long: `Parts copies, named by their accession numbers, from the others of their pattern:
they become copies of a pattern of their own, which says the same but for the
fields that are given, at least one of publisher, number, name, size_range and
year, and for the barcode, which stays with the others. With --made, what was made
of it goes over too, by the numbers that tuckrow sewn shows.`,
		Example: "  tuckrow part 412 size_range=16-20\n  tuckrow part 412 year=1974 name='Wrap skirt' --made 3",
		Args:    someArgs("the accession numbers of the copies that are another pattern"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) (err error) {
				numbers, given := args, []string(nil)
				if at := slices.IndexFunc(args, func(x string) bool { return strings.Contains(x, "=") }); at >= 0 {
					numbers, given = args[:at], args[at:]
				}
				if ch.Copies, err = copyNumbers(s.Collection(), numbers); err != nil {
					return err
				}
				ch.Makes, ch.Says = nil, nil
				for _, n := range made {
					ch.Makes = append(ch.Makes, model.MakeID(n))
				}
				if len(ch.Copies) > 0 {
					of := s.Collection().PatternOf(ch.Copies[0]).ID
					en := s.Collection().OtherDesign(of)
					if err := ofTitle(&en, given); err != nil {
						return err
					}
					ch.Says = &en
					if err := ch.Differs(s.Collection(), of); err != nil {
						return err
					}
				}
				return a.commit(cmd.Context(), s, &ch)
			})
		},
	}
	cmd.Flags().UintSliceVar(&made, "made", made, "numbers of what was made of the other pattern")
	cmd.Flags().BoolVar(&ch.Queued, "to-sew", false, "it is the other pattern that waits to be sewn")
	return cmd
}

// ofTitle fills in fields of a pattern, and of nothing else.
func ofTitle(en *model.Entry, given []string) error {
	for _, arg := range given {
		name, _, _ := strings.Cut(arg, "=")
		if !slices.ContainsFunc(model.OfTitle(), func(f model.Field) bool { return f.Name == strings.TrimSpace(name) }) {
			return model.Inputf("%q is not said of a pattern; correct the copy with: tuckrow change --copy", arg)
		}
	}
	return fill(en, given)
}

func (a *app) linkCommand() *cobra.Command {
	off, reissue := false, false
	cmd := &cobra.Command{
		Use:   "link COPY COPY",
		Short: "See also: two patterns have to do with one another",
		Long: `Links the patterns of two copies, named by their accession numbers, both ways;
with --reissue they are the same design under two numbers or of two publishers.
tuckrow find shows links.`,
		Example: "  tuckrow link 97 412 --reissue\n  tuckrow link 97 412 --off",
		RunE: func(cmd *cobra.Command, args []string) error {
			kind := model.SeeAlso
			if reissue {
				kind = model.Reissue
			}
			return a.withCopies(cmd.Context(), args, 2, func(ids []model.PatternID) model.Change {
				return &model.SetLink{A: ids[0], B: ids[1], Kind: kind, Off: off}
			})
		},
	}
	cmd.Flags().BoolVar(&off, "off", false, "take the link away")
	cmd.Flags().BoolVar(&reissue, "reissue", false, "the same design")
	return cmd
}

// house is a publisher, in JSON.
type house struct {
	Name      string   `json:"name"`
	FilesAs   string   `json:"files_as"`
	Spellings []string `json:"spellings"`
	Patterns  int      `json:"patterns"`
	Like      []string `json:"like"` // publishers that could be the same
}

func (a *app) publishersCommand() *cobra.Command {
	cmd := a.reads(&cobra.Command{
		Use:     "publishers",
		Short:   "The publishers, and which could be one spelled in two ways",
		Long:    "Lists the publishers, how many patterns there are of each, and which could be\none spelled in two ways.",
		Example: "  tuckrow publishers",
		Args:    noArgs,
		RunE: func(*cobra.Command, []string) error {
			return a.withStore(func(s cupboard) error { return a.publishers(s) })
		},
	})
	cmd.AddCommand(&cobra.Command{
		Use:   "merge KEEP OTHER",
		Short: "Two spellings of one publisher",
		Long: `Makes one publisher of two. The other spelling is kept too and leads to it from
then on, when it is typed or imported.`,
		Example: "  tuckrow publishers merge 'Harrow & Pell' 'Harow and Pell'",
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				if len(args) != 2 {
					return model.Inputf("give two names, the one to keep first; put each in quotation marks")
				}
				var ids [2]model.PublisherID
				for i, name := range args {
					p := s.Collection().PublisherNamed(name)
					if p == nil {
						return model.Inputf("there is no publisher %q; tuckrow publishers lists them", name)
					}
					ids[i] = p.ID
				}
				return a.commit(cmd.Context(), s, &model.MergePublishers{Keep: ids[0], Gone: ids[1]})
			})
		},
	})
	return cmd
}

func (a *app) publishers(s cupboard) error {
	c, out, rows := s.Collection(), []house{}, [][]string{{"publisher", "patterns", "also", "could be the same as"}}
	count, like := map[model.PublisherID]int{}, map[model.PublisherID][]string{}
	for _, p := range c.Patterns().All() {
		count[p.Publisher]++
	}
	for _, h := range s.Index().Houses() {
		like[h.B.ID] = append(like[h.B.ID], h.A.Name)
	}
	for _, p := range c.Publishers().All() {
		out = append(out, house{p.Name, p.FilesAs, append([]string{}, p.Spellings...), count[p.ID], append([]string{}, like[p.ID]...)})
		rows = append(rows, []string{p.Name, strconv.Itoa(count[p.ID]), joined(p.Spellings, "; "), joined(like[p.ID], "; ")})
	}
	if a.json {
		return a.printJSON(out)
	}
	return columns(a.out, rows)
}
