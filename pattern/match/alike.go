package match

// eachAlike gives the pairs of edges that are one curve. An edge without length
// is like nothing. What see takes, open must no longer offer.
func eachAlike(x, y *outline, r float64, open func(i, j int) bool, see func(i, j []int)) {
	for i, p := range x.paths {
		if x.lengths[i] <= r {
			continue
		}
		for _, j := range y.starts.near(p.Start(), r) {
			if open(i, j) && y.lengths[j] > r && agree(p, y.paths[j], r) {
				see([]int{i}, []int{j})
				break
			}
		}
	}
}

// eachChain gives the edges of x that are one curve with a chain of two or more
// edges of y.
func eachChain(x, y *outline, r float64, open func(i, j int) bool, see func(i, chain []int)) {
	for i, p := range x.paths {
		if x.lengths[i] <= r {
			continue
		}
		for _, j := range y.starts.near(p.Start(), r) {
			chain := y.chainTo(i, j, x, r, open)
			if len(chain) > 1 && agree(p, y.chain(chain), r) {
				see([]int{i}, chain)
				break
			}
		}
	}
}

// chainTo walks on from edge j until it is where edge i of x ends, over open
// edges only and no farther than edge i is long.
func (y *outline) chainTo(i, j int, x *outline, r float64, open func(i, j int) bool) []int {
	var chain []int
	end, length := x.paths[i].End(), 0.0
	for range y.paths {
		if !open(i, j) {
			return nil
		}
		chain = append(chain, j)
		length += y.lengths[j]
		// Rounding moves each joint by less than r, and a joint bends the walk.
		if length > x.lengths[i]+8*r*float64(len(chain)) {
			return nil
		}
		if y.paths[j].End().Dist(end) <= r {
			return chain
		}
		j = y.next(j)
	}
	return nil
}
