package model

import (
	"testing"
)

func TestAPersonAndAClothAreKnownByName(t *testing.T) {
	c := do(t, NewCollection(), &SetPerson{Person{Name: " Ada  Quick ", Bust: MM(920)}}, &SetPerson{Person{Name: "ada quick", Bust: MM(930)}},
		&SetPerson{Person{Name: "Bo"}}, &SetCloth{Cloth{Name: "blue wool", Width: MM(1400), Length: MM(2500)}},
		&SetCloth{Cloth{Name: "BLUE WOOL", Width: MM(1400), Length: MM(900)}})
	if p := c.PersonNamed("ADA QUICK"); c.People().Len() != 2 || p == nil || p.ID != 1 || p.Bust != MM(930) || p.On != day {
		t.Errorf("%d persons, Ada is %+v", c.People().Len(), p)
	}
	if x := c.ClothNamed("blue-wool"); c.Cloths().Len() != 1 || x == nil || x.Length != MM(900) {
		t.Errorf("%d cloths, the wool is %+v", c.Cloths().Len(), x)
	}
	for _, ch := range []Change{
		&SetPerson{Person{Name: "\t"}}, &SetPerson{Person{Name: "Cy", Hip: -1}}, &SetPerson{Person{Name: "Cy", On: "yesterday"}},
		&SetPerson{Person{ID: 7, Name: "Cy"}}, &SetPerson{Person{ID: 2, Name: "ada quick"}},
		&SetCloth{Cloth{Name: "tweed", Width: MM(1400)}}, &SetCloth{Cloth{Width: MM(1400), Length: 1}}, &SetCloth{Cloth{ID: 9, Name: "tweed", Width: 1, Length: 1}},
		&Strike{Kind: "person", ID: 7}, &Strike{Kind: "copy", ID: 1}, &Strike{Kind: "", ID: 1},
	} {
		if _, _, err := c.Apply(ch, day); !IsInput(err) {
			t.Errorf("%s: got %v, want an error for the user", ch.Title(c), err)
		}
	}
	c = do(t, c, &Strike{Kind: "person", ID: 1})
	if c.PersonNamed("Ada Quick") != nil || do(t, c, &SetPerson{Person{Name: "Cy"}}).PersonNamed("cy").ID != 3 {
		t.Error("Ada is still there, or her number was given again")
	}
}

func TestEveryKindOfRecordIsListedOnce(t *testing.T) {
	seen := map[Kind]bool{}
	for _, k := range Kinds() {
		r := k.New()
		if r == nil || seen[k] || NewCollection().table(k) == nil {
			t.Fatalf("kind %d cannot be made or kept, or is listed twice", k)
		}
		if got, _ := r.Key(); got != k {
			t.Errorf("%s makes a record of kind %s", k, got)
		}
		if named, ok := KindNamed(k.String()); !ok || named != k {
			t.Errorf("%s is not found by its name", k)
		}
		seen[k] = true
	}
	if len(seen) != int(kinds)-1 {
		t.Errorf("%d kinds are listed, there are %d", len(seen), kinds-1)
	}
}
