package schedule

// Times are the dates of one activity by the critical path method, in working
// minutes from the start of day 0.
type Times struct {
	ES, EF int64 // earliest start and finish
	LS, LF int64 // latest start and finish for which the whole takes no longer
	Total  int64 // total float: LS - ES
	Free   int64 // free float: how much later it may finish and delay no other
}

// Network is a project scheduled by precedence alone, as if there were no end of
// people, tools and room.
type Network struct {
	Times   []Times // parallel to Project.Activities
	Minutes int64   // of the whole
	// Path is a critical path: each activity on it is held up by the one
	// before, and the last one finishes last. Where a link runs overnight by the
	// clock, those before it can have float even so.
	Path []int
}

// Critical schedules by the critical path method (Kelley & Walker 1959): a
// forward pass for the earliest times and a backward pass for the latest. The
// error is what Check finds.
func Critical(p *Project) (*Network, error) {
	if err := Check(p); err != nil {
		return nil, err
	}
	in := compile(p)
	es := in.heads()
	end := in.length(es)
	ls := in.latest(end)
	n := &Network{Times: make([]Times, len(es)), Minutes: end, Path: in.drive(es)}
	for i := range es {
		d := in.dur[i]
		t := Times{ES: es[i], EF: es[i] + d, LS: ls[i], LF: ls[i] + d, Total: ls[i] - es[i]}
		limit := end
		for _, l := range in.succ[i] {
			limit = min(limit, in.axis.before(es[l.to], l.lag, l.elapsed))
		}
		if in.whole[i] {
			limit = in.axis.fitsBack(limit-d, d) + d
		}
		t.Free = limit - t.EF
		n.Times[i] = t
	}
	return n, nil
}
