"""What is seen in and on stones through the loupe: one small drawing for each feature."""

from isogyre.drawing.scenes.scene import (
    MOST_FEATURES,
    draw_empty_field,
    draw_feature,
    draw_scene,
    drawn_features,
)

__all__ = ["MOST_FEATURES", "draw_empty_field", "draw_feature", "draw_scene", "drawn_features"]
