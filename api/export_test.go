package api

import "github.com/gin-gonic/gin"

// Listed is all that the service answers to.
func (s *Server) Listed() gin.RoutesInfo { return s.router().Routes() }
