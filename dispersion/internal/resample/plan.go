package resample

// A Plan says how the n shots of one stage are resampled, n out of n with
// replacement. What it draws are units, each standing for a few shots, so that
// sums over units need be taken only once and a resample is a sum of few.
//
// Independent shots: a unit is a tuple of k shots, one of the nᵏ that are
// equally likely, with the largest k that keeps nᵏ at 1024 or below. Blocks:
// a unit is one of the n runs of so many shots in the order hit, the last shot
// being followed by the first, which is the circular block bootstrap (D. N.
// Politis, J. P. Romano, "A Circular Block-Resampling Procedure for Stationary
// Data", in R. LePage, L. Billard (eds.), Exploring the Limits of Bootstrap,
// Wiley 1992, pp. 263-270). Where the length does not divide n, one last unit
// is shorter.
type Plan struct {
	n           int
	whole, last unitKind
}

// A unitKind is all the units of one length and the draws of them that a
// resample takes.
type unitKind struct {
	length int
	shots  []int // of all units, one after the other
	draws  Draws
}

// maxUnits is how many tuples there may be.
const maxUnits = 1024

// NewPlan returns the plan for n shots in blocks of the given length, at most n;
// 1 or less means that shots are independent. A plan is never written to again
// and may be used by many goroutines.
func NewPlan(n, block int) *Plan {
	p := &Plan{n: n}
	if n < 1 {
		return p
	}
	units := runs
	length := min(block, n)
	if length <= 1 {
		units = tuples
		length = 1
		for count := n; length < n && count <= maxUnits/n; count *= n {
			length++
		}
	}
	p.whole = units(n, length, n/length)
	if rest := n % length; rest > 0 {
		p.last = units(n, rest, 1)
	}
	return p
}

// tuples returns all tuples of shots, the first shot changing slowest.
func tuples(n, length, times int) unitKind {
	count := 1
	for range length {
		count *= n
	}
	shots := make([]int, count*length)
	tuple := shots[:length] // of shots 0 alone; each next one counts up from it
	for at := length; at < len(shots); at += length {
		next := shots[at : at+length]
		copy(next, tuple)
		place := length - 1
		for ; next[place] == n-1; place-- {
			next[place] = 0
		}
		next[place]++
		tuple = next
	}
	return unitKind{length, shots, NewDraws(count, times)}
}

// runs returns the n runs of shots around the circle.
func runs(n, length, times int) unitKind {
	shots := make([]int, 0, n*length)
	for first := range n {
		for i := range length {
			shots = append(shots, (first+i)%n)
		}
	}
	return unitKind{length, shots, NewDraws(n, times)}
}

// Count returns how many units make a resample. All but the last are whole
// ones; the last is one of [Plan.Short] if there are any.
func (p *Plan) Count() int { return p.whole.draws.count + p.last.draws.count }

// Draw writes the units of one resample, Count of them.
func (p *Plan) Draw(units []uint32, s *Stream) {
	p.whole.draws.Fill(units, s)
	if p.last.length > 0 {
		p.last.draws.Fill(units[p.whole.draws.count:], s)
	}
}

// Whole returns the shots of all whole units, so many for each.
func (p *Plan) Whole() (shots []int, length int) { return p.whole.shots, p.whole.length }

// Short returns the shots of the shorter units that a resample takes one of,
// none if it takes none.
func (p *Plan) Short() (shots []int, length int) { return p.last.shots, p.last.length }

// Shots writes the n shots that the units stand for.
func (p *Plan) Shots(shots []int, units []uint32) {
	for i, u := range units {
		kind := &p.whole
		if i == p.whole.draws.count {
			kind = &p.last
		}
		at := int(u) * kind.length
		shots = shots[copy(shots, kind.shots[at:at+kind.length]):]
	}
}
