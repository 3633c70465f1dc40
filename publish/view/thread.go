package view

func (s *shape) addThreads() {}
