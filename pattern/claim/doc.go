// Package claim reads and proves the checkable lines of an alteration note: what
// it changes, what it keeps, and which pieces alone it touches. No claim is
// believed: each is measured on both versions.
//
//	Changes: girth low-hip +24
//	Changes: gap front at bust to 34 within 2
//	Keeps: girth waist, girth bust, seam side-back-back
//	Only: side-front, underarm, garment
//
// Parse reads the value of one such line, Judge measures, and Unclaimed tells
// what changed without being named. Suggest goes the other way: from what was
// measured to claims that are true. Nothing here prints.
package claim
