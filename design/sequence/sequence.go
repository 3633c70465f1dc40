package sequence

import (
	"math"

	"plansheaf/design/layout"
	"plansheaf/design/plan"
	"plansheaf/design/reckon"
)

// A Record is the order of work of one case, gone through step by step.
type Record struct {
	Graph *Graph
	// Obstructions are what does not go, by step in working order, assembly by
	// assembly.
	Obstructions []Obstruction
	// Late are steps that the file has before one that they need: the builder reads
	// them too early.
	Late []Late
	// Skipped are assemblies with too much in them to be gone through whole: of their
	// later steps nothing is known.
	Skipped []Skip

	r     *reckon.Reckoning
	tools map[int]map[*plan.Joint]dealt // by graph step: what tightens a joint there
	rests map[int]Resting               // by graph step
	laid  *layout.Layout
	store *Store
	other *elsewhere
	cards map[int]Card // by graph step, those that were asked for
}

// A Skip is an assembly that was not gone through from a step on.
type Skip struct {
	Assembly *plan.Assembly
	From     int // of the graph
}

// A Late step is needed by one that stands above it in its file.
type Late struct{ Needed, By int }

// Of goes through the work of a reckoning's case. The store keeps what cases share;
// nil for a store of its own.
func Of(r *reckon.Reckoning, l *layout.Layout, g *Graph, store *Store) *Record {
	if store == nil {
		store = NewStore(nil)
	}
	store.balls = ballEnds(r.Plan.Tools)
	other := &elsewhere{r: r, laid: l}
	rec := &Record{Graph: g, r: r, tools: map[int]map[*plan.Joint]dealt{}, rests: map[int]Resting{}, laid: l, store: store, other: other}
	for _, a := range r.Plan.Assemblies {
		if r.Tally().Assembled[a.ID.Text] == 0 {
			continue
		}
		rec.late(a)
		if b := newBench(r, l, g, a, store, other); b != nil {
			w := b.work()
			for turn, done := range w.turns {
				rec.tools[b.order[turn]], rec.rests[b.order[turn]] = done.tools, done.rest
				rec.Obstructions = append(rec.Obstructions, done.found...)
			}
			rec.Obstructions = append(rec.Obstructions, w.last...)
			if len(w.turns) < len(b.order) {
				rec.Skipped = append(rec.Skipped, Skip{a, b.order[len(w.turns)]})
			}
		}
	}
	return rec
}

// late finds steps that stand in their file before one that they need.
func (rec *Record) late(a *plan.Assembly) {
	for _, k := range workingOrder(rec.Graph, a) {
		for _, need := range rec.Graph.needed(rec.Graph.Steps[k]) {
			if rec.Graph.Steps[need].Assembly == a && need > k {
				rec.Late = append(rec.Late, Late{Needed: need, By: k})
			}
		}
	}
}

// jointsDone is what handling a step's joints gave.
type jointsDone struct {
	tools map[*plan.Joint]dealt
	found []Obstruction
	rest  Resting
}

// joints puts in and tightens what a step names.
func (b *bench) joints(turn int) (out jointsDone) {
	out.tools = map[*plan.Joint]dealt{}
	defer func() { out.found = oncePerJoint(out.found) }()
	step := b.g.Steps[b.order[turn]].Step
	for _, w := range step.SlidesIn {
		if d := b.deal(turn, w, nothing); d != nil {
			out.found = append(out.found, d.slideIn()...)
		}
	}
	for n, w := range step.Fastens {
		d := b.deal(turn, w, afterParts+n)
		if d != nil && len(d.bodies) == 0 && b.clampOf(w) && !b.leftLoose(step, d.joint) {
			b.clamped(&out, d)
		}
		if d == nil || len(d.bodies) == 0 {
			continue
		}
		out.found = append(out.found, d.putIn()...)
		if b.leftLoose(step, d.joint) {
			continue
		}
		d.rank++ // its own screws are there
		b.tightened(&out, d)
	}
	for _, w := range step.Tightens {
		d := b.deal(turn, w, math.MaxInt)
		if d == nil {
			continue
		}
		d.strict = true
		if len(d.bodies) > 0 {
			b.tightened(&out, d)
		} else if b.clampOf(w) {
			b.clamped(&out, d)
		}
	}
	return out
}

func (b *bench) tightened(out *jointsDone, d *deal) {
	done := d.tight()
	out.found = append(out.found, done.found...)
	out.tools[d.joint] = done
}

func (b *bench) clamped(out *jointsDone, d *deal) {
	done := d.clamped()
	out.found = append(out.found, done.found...)
	if len(done.tools) > 0 {
		out.tools[d.joint] = done
	}
}

// leftLoose reports whether a step only starts a joint.
func (b *bench) leftLoose(step *plan.Step, j *plan.Joint) bool {
	for _, w := range step.Loose {
		if _, other := JointOf(b.r.Plan, b.a, w); other == j {
			return true
		}
	}
	return false
}

// adjusted tries what must stay within reach on the finished machine.
func (b *bench) adjusted() []Obstruction {
	if b.a.ID.Text != b.r.Plan.Machine.Text {
		return nil
	}
	var found []Obstruction
	last := len(b.order) - 1
	done := map[*plan.Joint]bool{}
	for i := range b.bodies {
		j := b.bodies[i].Of
		if j == nil || !j.Reachable || done[j] {
			continue
		}
		done[j] = true
		word := plan.Word{Text: j.ID.Text, At: j.ID.At}
		if owner := b.bodies[i].Owner; owner != b.a {
			word.Text = owner.ID.Text + "." + word.Text
		}
		d := b.deal(last, word, math.MaxInt)
		if d == nil {
			continue
		}
		d.strict = true
		for _, o := range d.tight().found {
			o.What, o.Kind, o.Step = o.Kind, Unadjustable, -1
			found = append(found, o)
		}
	}
	return found
}
