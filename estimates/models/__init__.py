from estimates.models.estimate import Estimate, EstimateLine

__all__ = ["Estimate", "EstimateLine"]
