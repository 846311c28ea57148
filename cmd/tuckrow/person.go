package main

import (
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"github.com/spf13/cobra"
)

func (a *app) personCommand() *cobra.Command {
	forget := false
	cmd := &cobra.Command{
		Use:   "person [NAME [MEASURE=LENGTH...]]",
		Short: "Note the measures of somebody that is sewn for",
		Long: `Notes bust, waist, hip and height of a person, in any unit; with a name known
already, what is given replaces what was noted, and the rest stays. Without
measures it shows the person, without a name all of them.`,
		Example: "  tuckrow person Ada bust='92 cm' waist='74 cm' hip='98 cm' height='168 cm'\n  tuckrow person Ada waist='29 1/2 in' height='5 ft 6 in' notes='over a thick jersey'\n  tuckrow person --forget Ada",
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				name, given := nameAnd(args)
				if forget {
					p, err := personNamed(s.Collection(), name)
					if err != nil {
						return err
					}
					return a.commit(cmd.Context(), s, &model.Strike{Kind: model.KindPerson.String(), ID: uint32(p.ID)})
				}
				if len(given) == 0 {
					return a.listPersons(s.Collection(), name)
				}
				p, err := personFrom(s.Collection(), name, given)
				if err != nil {
					return err
				}
				return a.commit(cmd.Context(), s, &model.SetPerson{Person: p})
			})
		},
	}
	cmd.Flags().BoolVar(&forget, "forget", false, "take the person off the list")
	return a.reads(cmd)
}

// nameAnd parts a name from what is said of it as FIELD=VALUE.
func nameAnd(args []string) (name string, given []string) {
	var said []string
	for _, arg := range args {
		if strings.Contains(arg, "=") {
			given = append(given, arg)
		} else {
			said = append(said, arg)
		}
	}
	return words.Clean(strings.Join(said, " ")), given
}

// personFrom is a person as noted, with what is given now.
func personFrom(c *model.Collection, name string, given []string) (model.Person, error) {
	p := model.Person{Name: name}
	if old := c.PersonNamed(name); old != nil {
		p, p.On = *old, ""
	}
	return p, assign(given, map[string]func(string) error{
		"bust": intoMeasure("bust", model.ParseBody, &p.Bust), "waist": intoMeasure("waist", model.ParseBody, &p.Waist), "hip": intoMeasure("hip", model.ParseBody, &p.Hip), "height": intoMeasure("height", model.ParseBody, &p.Height),
		"on": intoDate("on", &p.On), "notes": into(&p.Notes),
	})
}

func personNamed(c *model.Collection, name string) (*model.Person, error) {
	if p := c.PersonNamed(name); p != nil {
		return p, nil
	}
	if name == "" {
		return nil, model.Inputf("say whom it is to fit, with --who; tuckrow person lists who was measured")
	}
	return nil, model.Inputf("nobody called %q was measured; tuckrow person lists who was, and tuckrow person %q bust='92 cm' adds one", name, name)
}

func (a *app) listPersons(c *model.Collection, name string) error {
	out, rows := []*model.Person{}, [][]string{{"name", "bust", "waist", "hip", "height", "measured", "notes"}}
	s := c.Shelf().Settings
	for _, p := range c.People().All() {
		if name != "" && p != c.PersonNamed(name) {
			continue
		}
		out = append(out, p)
		rows = append(rows, []string{p.Name, tape(s, p.Bust), tape(s, p.Waist), tape(s, p.Hip), tape(s, p.Height), string(p.On), p.Notes})
	}
	switch {
	case a.json:
		return a.printJSON(out)
	case len(out) == 0 && name != "":
		_, err := personNamed(c, name)
		return err
	case len(out) == 0:
		a.printf("nobody was measured yet; say for example: tuckrow person Ada bust='92 cm'\n")
		return nil
	}
	return columns(a.out, rows)
}

// tape writes a measure, or nothing when it was not taken.
func tape(s model.Settings, l model.Length) string {
	if l == 0 {
		return ""
	}
	return s.Tape(l)
}
