from estimates.models.estimate import Estimate, EstimateLine, OperationRate

__all__ = ["Estimate", "EstimateLine", "OperationRate"]
