// Package waterfall tells how the gap of a lacing came from what it was to what it
// is, note by note, as data and as a picture.
//
// The figures are the predicted gaps of the versions; a step is the difference of
// two of them, so that the steps always add up to the whole change. What is printed
// adds up too: the gaps are rounded to 0.1 mm first, and the steps are differences
// of rounded gaps.
package waterfall
