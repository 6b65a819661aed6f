package web

import (
	"net/http"

	"stallwright/app/account"
)

// Route is one thing that can be asked of the server.
type Route struct {
	Name    string // of the operation
	Method  string
	Path    string
	Roles   []account.Role // who may; Nobody stands for everybody
	Summary string
	Body    int64 // bytes that the request may carry at most; 0 for none
}

// Who may do what.
var (
	everybody = []account.Role{account.Nobody, account.Customer, account.Saw, account.Crew, account.Estimator, account.Owner}
	guests    = []account.Role{account.Customer}
	staff     = []account.Role{account.Saw, account.Crew, account.Estimator, account.Owner}
	office    = []account.Role{account.Estimator, account.Owner}
	owners    = []account.Role{account.Owner}
)

// How much a request may carry.
const (
	small  = 64 << 10
	texts  = 5 << 20  // a job's text is at most 2 MB; JSON may write it in more
	batch  = 4 << 20  // records that waited for signal
	photos = 15 << 20 // a photo as a phone takes it
)

const (
	get    = http.MethodGet
	post   = http.MethodPost
	put    = http.MethodPut
	patch  = http.MethodPatch
	remove = http.MethodDelete
)

// Routes is the table of all routes. It is the only place that says who may use
// what.
func Routes() []Route {
	return []Route{
		{"page", get, "/", everybody, "The app's pages and scripts", 0},
		{"health", get, "/healthz", everybody, "Whether the server and its database answer", 0},
		{"description", get, "/openapi.json", everybody, "This description", 0},
		{"metrics", get, "/metrics", owners, "Figures of the running server, for Prometheus", 0},

		{"read-session", get, "/api/session", everybody, "Who is signed in", 0},
		{"sign-in", post, "/api/session", everybody, "Sign in", small},
		{"sign-out", remove, "/api/session", everybody, "Sign out", 0},
		{"change-password", put, "/api/session/password", staff, "Set a new password of one's own", small},

		{"list-jobs", get, "/api/jobs", staff, "The jobs, the one changed last first", 0},
		{"import-job", post, "/api/jobs", office, "Take in a job from the files of the command line", texts},
		{"read-job", get, "/api/jobs/{job}", staff, "A job with its text", 0},
		{"save-job", put, "/api/jobs/{job}", office, "Make a job, or save a new revision of it", texts},
		{"delete-job", remove, "/api/jobs/{job}", office, "Delete a job; it can be brought back", 0},
		{"bring-back-job", post, "/api/jobs/{job}/bring-back", office, "Bring a deleted job back", 0},
		{"take-along", get, "/api/jobs/{job}/take-along", staff, "All of a job that a device needs without signal", 0},
		{"export-job", get, "/api/jobs/{job}/export", staff, "A job as files that the command line reads, zipped", 0},
		{"list-revisions", get, "/api/jobs/{job}/revisions", staff, "The revisions of a job, the latest first", 0},
		{"read-revision", get, "/api/jobs/{job}/revisions/{number}", staff, "One revision with its text", 0},
		{"restore-revision", post, "/api/jobs/{job}/revisions/{number}/restore", office, "Make an earlier revision the latest again", 0},
		{"compare-revisions", get, "/api/jobs/{job}/compare", staff, "What differs between two revisions' plans, and why", 0},

		{"add-records", post, "/api/jobs/{job}/records", staff, "Hand in records: readings, boards cut, steps, problems", batch},
		{"list-records", get, "/api/jobs/{job}/records", staff, "Records behind an event", 0},
		{"live", get, "/api/jobs/{job}/live", staff, "Events of a job as they happen (server-sent events)", 0},
		{"add-photo", put, "/api/jobs/{job}/photos/{photo}", staff, "Attach a photo", photos},
		{"list-photos", get, "/api/jobs/{job}/photos", staff, "The photos of a job", 0},
		{"read-photo", get, "/api/jobs/{job}/photos/{photo}", staff, "One photo", 0},
		{"read-saw", get, "/api/jobs/{job}/saw", staff, "What is left to cut", 0},
		{"read-progress", get, "/api/jobs/{job}/progress", staff, "How far the steps are, and the problems", 0},

		{"read-plan", get, "/api/jobs/{job}/plan", staff, "The plan as plan.json", 0},
		{"list-files", get, "/api/jobs/{job}/files", staff, "The files of the packet", 0},
		{"read-file", get, "/api/jobs/{job}/file", staff, "One file of the packet", 0},
		{"read-packet", get, "/api/jobs/{job}/packet.zip", staff, "All files of the packet, zipped", 0},
		{"list-drawings", get, "/api/jobs/{job}/drawings", staff, "The drawings", 0},

		{"list-links", get, "/api/jobs/{job}/links", office, "The links by which customers see a job", 0},
		{"add-link", post, "/api/jobs/{job}/links", office, "Make a link", small},
		{"revoke-link", remove, "/api/jobs/{job}/links/{link}", office, "End a link", 0},
		{"see-job", get, "/share/{token}", guests, "One job's drawings, for a customer", 0},
		{"see-drawing", get, "/share/{token}/{drawing}", guests, "One drawing, for a customer", 0},
		{"share-style", get, "/share.css", everybody, "How the customer's page looks", 0},

		{"read-offer", get, "/api/jobs/{job}/offer", office, "What a job costs and what the customer pays", 0},
		{"read-offer-file", get, "/api/jobs/{job}/offer/file", office, "One file of the offer", 0},

		{"list-shop", get, "/api/shop/{kind}", staff, "The shop's files of a kind", 0},
		{"read-shop", get, "/api/shop/{kind}/{name}", staff, "One file of the shop", 0},
		{"save-shop", put, "/api/shop/{kind}/{name}", office, "Keep a file, or save a new revision of it", texts},
		{"delete-shop", remove, "/api/shop/{kind}/{name}", office, "Delete a file; it can be brought back", 0},
		{"bring-back-shop", post, "/api/shop/{kind}/{name}/bring-back", office, "Bring a deleted file back", 0},
		{"download-shop", get, "/api/shop/{kind}/{name}/file", staff, "The file itself, as the command line reads it", 0},
		{"list-shop-revisions", get, "/api/shop/{kind}/{name}/revisions", staff, "The revisions of a file, the latest first", 0},
		{"read-shop-revision", get, "/api/shop/{kind}/{name}/revisions/{number}", staff, "One revision of a file", 0},

		// Price books hold what things cost the shop: what reads them is for the office.
		{"list-prices", get, "/api/shop/prices", office, "The shop's price books", 0},
		{"read-prices", get, "/api/shop/prices/{name}", office, "One price book", 0},
		{"download-prices", get, "/api/shop/prices/{name}/file", office, "The price book itself, as the command line reads it", 0},
		{"list-prices-revisions", get, "/api/shop/prices/{name}/revisions", office, "The revisions of a price book, the latest first", 0},
		{"read-prices-revision", get, "/api/shop/prices/{name}/revisions/{number}", office, "One revision of a price book", 0},

		{"list-accounts", get, "/api/accounts", owners, "Who can sign in", 0},
		{"add-account", post, "/api/accounts", owners, "Let somebody sign in", small},
		{"change-account", patch, "/api/accounts/{account}", owners, "Change somebody's role or password, or shut them out", small},
		{"read-audit", get, "/api/audit", owners, "Who did what, the latest first", 0},
	}
}

// Pattern is how net/http knows the route.
func (r *Route) Pattern() string { return r.Method + " " + r.Path }

// Open says whether a route answers everybody.
func (r *Route) Open() bool { return r.Allows(account.Nobody) }

// Allows says whether a role may use the route.
func (r *Route) Allows(role account.Role) bool {
	for _, v := range r.Roles {
		if v == role {
			return true
		}
	}
	return false
}
