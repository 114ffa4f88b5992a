package diag

// Nearest gives the known word that is most like the one found, or "" where
// none is close: at most a third of its letters, and at least one, may differ.
// Swapping two neighbours counts as one difference.
func Nearest(word string, known []string) string {
	best, bestDist := "", 0
	limit := max(1, len(word)/3)
	for _, k := range known {
		if k == word || abs(len(k)-len(word)) > limit {
			continue
		}
		d := distance(word, k)
		if d <= limit && (best == "" || d < bestDist || d == bestDist && k < best) {
			best, bestDist = k, d
		}
	}
	return best
}

// distance is the optimal string alignment distance in bytes (Damerau 1964,
// restricted to one edit of each place).
func distance(a, b string) int {
	before, prev, cur := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		cur[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			cur[j] = min(prev[j]+1, cur[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				cur[j] = min(cur[j], before[j-2]+1)
			}
		}
		before, prev, cur = prev, cur, before
	}
	return prev[len(b)]
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}
