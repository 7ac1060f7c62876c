"""Pictures in: a photograph or a drawing becomes the nearest motif that can be worked; `tracing` says by which road."""
