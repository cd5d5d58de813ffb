package prove

func (r *Report) costText() string { return "" }
