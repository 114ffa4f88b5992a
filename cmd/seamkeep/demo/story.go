package demo

import "time"

// maker is one of the two who work on the pattern. Both are invented.
type maker struct{ name, email string }

// chapter is what the files of a version do not say.
type chapter struct {
	name, parent string
	branch       string
	maker        maker
	when         time.Time
	tag          string
	told         string
	firstTry     firstTry
}

// firstTry is a state before truing; told is "" where there was none.
type firstTry struct{ seam, move, told string }

// story gives the chapters in the order in which they were kept.
func story() []chapter {
	ines := maker{"Ines", "ines@example.org"}
	tam := maker{"Tam", "tam@example.org"}
	return []chapter{
		{
			name: "base", branch: MainBranch, maker: ines, when: at(time.April, 11, 10, 20),
			told: "Ines brings in the paper pattern that fits: six panels, every seam equal on both sides, " +
				"a predicted gap of 52 mm at the bust between the two edges of the front lacing.",
		},
		{
			name: "straps", parent: "base", branch: MainBranch, maker: tam, when: at(time.April, 18, 15, 5),
			told: "Tam adds a shoulder strap. Nothing else moves, and nothing else is listed as changed.",
		},
		{
			name: "gusset", parent: "straps", branch: MainBranch, maker: ines, when: at(time.May, 2, 9, 40),
			told: "The underarm is trued to the side front. 60 mm of canvas made room for 52 mm of elastic, which " +
				"fills 60 again when worn: the front gap is where it was, within half a millimetre.",
			firstTry: firstTry{seam: "side-front-underarm", move: "underarm",
				told: "Ines lets an elastic gusset in under the arm. What was left over went to the underarm's " +
					"front edge, and that edge is now 1.77 mm longer than the side front that it is sewn to."},
		},
		{
			name: "half-move", parent: "gusset", branch: HalfMoveBranch, maker: tam, when: at(time.May, 5, 20, 15),
			told: "On a branch, Tam moves the side-back seam, but only on his own side. The seam still passes: " +
				"322.0 against 321.0. The widths tell: the girth grows by 28 mm at the bust, though the note says that it is kept.",
		},
		{
			name: "undo-half-move", parent: "half-move", branch: HalfMoveBranch, maker: tam, when: at(time.May, 8, 18, 30),
			told: "Tam takes it back. The pattern is, byte for byte, what it was with the gusset.",
		},
		{
			name: "seam-move", parent: "gusset", branch: MainBranch, maker: ines, when: at(time.May, 9, 11, 0), tag: "mock-up-1",
			told: "Trued by hand to the old 321.0 on both sides. What the side back gained the back lost: the girth " +
				"is the same at every level. Mock-up 1 is cut from this version.",
			firstTry: firstTry{seam: "side-back-back", move: "both",
				told: "On the main branch Ines moves both sides of the seam at once. The widths are right now, " +
					"but each side bends differently: 322.0 against 319.5, 1.20 mm below the waist and 1.35 above. " +
					"Measured from the waist, either part would pass; the whole seam does not."},
		},
		{
			name: "wider-gusset", parent: "seam-move", branch: MainBranch, maker: tam, when: at(time.May, 17, 14, 10),
			told: "At mock-up 1 the lacing stood too far open: the elastic goes from 52 to 60 mm, and the wanted gap " +
				"of 28 to 36 mm is written down. Tam also draws the hem through all panels as one line.",
		},
		{
			name: "lower-back-neck", parent: "wider-gusset", branch: MainBranch, maker: ines, when: at(time.May, 24, 16, 45),
			told: "The back neck goes down by 6 to 10 mm on three pieces at once, so both sides of each seam still agree. " +
				"The strap is turned by 8 degrees: moved, not altered.",
		},
		{
			name: "button-stand", parent: "lower-back-neck", branch: MainBranch, maker: tam, when: at(time.May, 30, 10, 30),
			told: "The button stand grows by 3 mm on each half and the overlap by 6 mm, so the front gap stays. " +
				"With the overlap forgotten, the gap at the bust would have gone from 34 to 28 mm.",
		},
		{
			name: "card-1", parent: "button-stand", branch: MainBranch, maker: ines, when: at(time.June, 6, 9, 15), tag: "card-1",
			told: "The final card: numbers, notches, bones, buttons, eyelets and allowances. No outline moves.",
		},
	}
}

// at gives a moment of the spring in which the story happens.
func at(month time.Month, day, hour, minute int) time.Time {
	return time.Date(2026, month, day, hour, minute, 0, 0, time.FixedZone("", 2*60*60))
}
