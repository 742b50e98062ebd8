"""Scenes of the window for the documentation: each page, each dialog, and how pictures are taken."""

from estate.window.pictures.stage import Scene, Stage, settle

__all__ = ["Scene", "Stage", "settle"]
