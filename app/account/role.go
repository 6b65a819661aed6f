package account

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// Role is what a person does here; it decides what they may open.
type Role string

// The roles, the widest first.
const (
	Owner     Role = "owner"     // everything, the accounts included
	Estimator Role = "estimator" // jobs, the shop's kits and prices, links for customers
	Crew      Role = "crew"      // reads jobs; measures, cuts, ticks off steps
	Saw       Role = "saw"       // reads jobs; cuts
	Customer  Role = "customer"  // one job's drawings, by a link; has no account
	Nobody    Role = "nobody"    // has not signed in
)

// Roles lists the roles an account can have.
func Roles() []Role { return []Role{Owner, Estimator, Crew, Saw} }

// Allowed lists the roles an account can have, for schemas.
func (Role) Allowed() []string { return []string{"owner", "estimator", "crew", "saw"} }

// ReadRole reads the role of an account.
func ReadRole(s string) (Role, error) {
	r := Role(s)
	if slices.Contains(Roles(), r) {
		return r, nil
	}
	return "", fmt.Errorf("there is no role %q; choose owner, estimator, crew or saw", s)
}

// Bounds on what a person may be called and use as a password, in characters.
const (
	MaxName     = 40
	MinPassword = 10  // NIST SP 800-63B-4 asks for at least 8; from memory
	MaxPassword = 200 // keeps the work of hashing bounded
)

// CheckName says what is wrong with an account's name; nil for nothing.
func CheckName(name string) error {
	switch {
	case strings.TrimSpace(name) != name || name == "":
		return fmt.Errorf("a name is not empty and neither begins nor ends with a blank")
	case len([]rune(name)) > MaxName:
		return fmt.Errorf("a name has at most %d characters", MaxName)
	}
	for _, r := range name {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune(" ._-@", r) {
			return fmt.Errorf("a name cannot hold %q; letters, digits, blanks, dots, hyphens and @ are right", r)
		}
	}
	return nil
}

// CheckPassword says what is wrong with a new password; nil for nothing.
func CheckPassword(name, password string) error {
	n := len([]rune(password))
	switch {
	case n < MinPassword:
		return fmt.Errorf("the password has %d characters; at least %d are needed, four words are good", n, MinPassword)
	case n > MaxPassword:
		return fmt.Errorf("the password has %d characters; at most %d are taken", n, MaxPassword)
	case strings.ContainsFunc(password, unicode.IsControl):
		return fmt.Errorf("the password holds a character that cannot be typed")
	case strings.EqualFold(password, name), strings.Count(password, password[:1]) == len(password):
		return fmt.Errorf("the password is too easily guessed; four words are good")
	}
	return nil
}
