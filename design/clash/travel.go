package clash

func (s *search) travels() {}
