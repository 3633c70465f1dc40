package change

import (
	"maps"
	"reflect"
	"slices"
	"strings"
	"unicode"

	"plansheaf/design/finding"
	"plansheaf/design/plan"
)

// untold are fields that are no meaning of their own: names, places in the text, and
// what is told by itself.
var untold = map[string]bool{
	"ID": true, "At": true, "NeedsAt": true, "Part.Group": true, "Calc.Ready": true,
	"Assembly.Holds": true, "Assembly.Joints": true, "Assembly.Steps": true,
	"Calc.Givens": true, "Calc.Finds": true, "Calc.Requires": true, "Calc.Limits": true, "Calc.Tables": true,
	"Claim.Say": true, "Find.Made": true, "Given.Must": true, "Given.Unit": true, "Given.Like": true,
	"Option.ID": true, "Reconcile.Data": true, "Sale.Supplier": true,
}

// sets are lists whose order means nothing.
var sets = map[string]bool{
	"Step.Adds": true, "Step.Tools": true, "Layer.Features": true, "Hazard.Where": true, "Part.Guards": true,
	"Joint.Adjusts": true, "Reconcile.Ignore": true, "Telescope.Shapes": true, "Condition.Options": true, "Step.Needs": true,
}

// inOrder are lists whose order is their meaning; each is one fact.
var inOrder = map[string]bool{
	"Joint.Through": true, "Use.Turn": true, "Use.Via": true, "Use.Moves": true, "Use.Way": true, "Outline.Points": true,
	"Outline.Path": true, "Solid.Steps": true, "Chain.Through": true,
}

// A role says what a word names.
type role string

const (
	path    role = "path"    // from the thing's assembly, or from the plan
	feature role = "feature" // of the thing's own part
	option  role = "option"
)

// roles say what the words of a field name, by type and field.
var roles = map[string]role{
	"Part.Stock": role(OfStock), "Part.Material": role(OfMaterial), "Part.Of": role(OfPart), "Part.Guards": role(OfPart),
	"Telescope.Shapes": feature, "Fastener.DrivenAt": feature, "Buy.From": role(OfSupplier), "Stock.Material": role(OfMaterial),
	"Use.Part": role(OfPart), "Use.Assembly": role(OfAssembly), "Use.Around": path, "Use.Pressed": path, "Use.From": path, "Use.To": path,
	"Waypoint.Of": path, "Seat.Mine": feature, "Seat.Onto": path, "Seat.LineUp": path, "End.Mine": feature, "End.Theirs": path,
	"Move.About": path, "Overlap.With": path,
	"Joint.Fastener": role(OfPart), "Joint.UnderHead": role(OfPart), "Joint.UnderNut": role(OfPart), "Joint.Into": role(OfPart), "Joint.With": role(OfPart),
	"Layer.Features": path, "Joint.Adjusts": path, "Joint.Also": path,
	"Step.Adds": path, "Step.SlidesIn": path, "Step.Fastens": path, "Step.Loose": path, "Step.Tightens": path, "Step.Needs": path,
	"Step.Tools": role(OfTool), "Using.Part": role(OfPart),
	"Hazard.Where": path, "Protection.Ref": path, "Drawing.Of": role(OfPart), "View.Through": feature, "View.Around": feature,
	"Dimension.From": feature, "Dimension.To": feature, "Dimension.Diameter": feature, "Dimension.Radius": feature,
	"Dimension.Angle": feature, "Dimension.Chamfer": feature, "Dimension.Depth": feature,
	"Chain.In": role(OfAssembly), "ChainEnd.Feature": path, "Calc.From": role(OfCalculation), "Sale.Part": role(OfPart),
	"Choice.Default": option, "ListName.Part": role(OfPart), "identity.Machine": role(OfAssembly), "Waiver.Subject": path,
	"Graph.Of": path, "Graph.Against": path, "Input.Name": path,
}

// renamed field names, where the model's word is not the plan's.
var words = map[string]string{"Place": "at", "Has": "", "Joint.Fastener": "screw", "Only": "only for", "Holes": "hole", "Finds": "", "Budgets": "budget",
	"Spares": "spares", "Options": "option", "Buy": "bought", "Sold": "sold", "Mine": "", "Theirs": "into", "Loop": "belt", "Made": "made", "D": "diameter", "L": "length",
	"UnderHead": "under the head", "UnderNut": "under the nut", "Also": "also at"}

// spoken is a field's name in words.
func spoken(own, name string) string {
	if word, known := words[own]; known {
		return word
	}
	if word, known := words[name]; known {
		return word
	}
	var b strings.Builder
	for i, c := range name {
		if unicode.IsUpper(c) {
			if i > 0 {
				b.WriteByte(' ')
			}
			c = unicode.ToLower(c)
		}
		b.WriteRune(c)
	}
	return b.String()
}

// derived begin the names of fields that no model holds: what follows, and what is told by
// itself.
var derived = []string{"value", "size over all", "mass of one", StandsAt, Takes, "places", "worked out", "comes to", "given", "formula of",
	"requirement", "holds while", "table", "result", "content", "name of", StepOrder}

// FieldWords are the words that the names of fields are made of, sorted, for who
// translates them: a name is such words, each with a name of the plan behind it or none,
// with commas between.
func FieldWords() []string {
	words := map[string]bool{}
	for _, word := range derived {
		words[word] = true
	}
	seen := map[reflect.Type]bool{}
	var walk func(t reflect.Type)
	walk = func(t reflect.Type) {
		for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
			t = t.Elem()
		}
		if t.Kind() != reflect.Struct || seen[t] || wholes[t] {
			return
		}
		seen[t] = true
		for i := range t.NumField() {
			f := t.Field(i)
			own := t.Name() + "." + f.Name
			if f.IsExported() && !untold[f.Name] && !untold[own] && f.Type != reflect.TypeFor[finding.Span]() {
				words[spoken(own, f.Name)] = true
				walk(f.Type)
			}
		}
	}
	for _, t := range models {
		walk(t)
	}
	delete(words, "")
	return slices.Sorted(maps.Keys(words))
}

// models are what things say, and wholes what is told as one fact.
var models = []reflect.Type{
	reflect.TypeFor[identity](), reflect.TypeFor[plan.Choice](), reflect.TypeFor[plan.Value](), reflect.TypeFor[plan.Motion](), reflect.TypeFor[plan.Claim](),
	reflect.TypeFor[plan.Calc](), reflect.TypeFor[plan.Hazard](), reflect.TypeFor[plan.Part](), reflect.TypeFor[plan.Stock](), reflect.TypeFor[plan.Material](),
	reflect.TypeFor[plan.Drawing](), reflect.TypeFor[plan.Page](), reflect.TypeFor[plan.Tool](), reflect.TypeFor[plan.Supplier](), reflect.TypeFor[plan.Reconcile](),
	reflect.TypeFor[plan.Assembly](), reflect.TypeFor[plan.Use](), reflect.TypeFor[plan.Joint](), reflect.TypeFor[plan.Step](),
}

var wholes = map[reflect.Type]bool{
	reflect.TypeFor[plan.Word](): true, reflect.TypeFor[plan.Quantity](): true, reflect.TypeFor[plan.Formula](): true, reflect.TypeFor[plan.Reference](): true,
	reflect.TypeFor[plan.Point](): true, reflect.TypeFor[plan.Only](): true, reflect.TypeFor[plan.Text](): true, reflect.TypeFor[plan.Wording](): true,
	reflect.TypeFor[plan.Table](): true, reflect.TypeFor[plan.PartList](): true,
}
