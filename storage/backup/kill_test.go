package backup

func child(do, dir string) error { return nil }
