"""Smooth fields over a picture: how the light falls, how cloth folds, how stone is mottled."""

import cv2
import numpy as np

WIDTH, HEIGHT = 2016, 1512


def grid():
    """Coordinates over the picture: x from -1 to 1, y from -0.75 to 0.75."""
    x, y = np.meshgrid(np.linspace(-1, 1, WIDTH), np.linspace(-0.75, 0.75, HEIGHT))
    return x.astype(np.float32), y.astype(np.float32)


def clouds(rng, size, stretch=(1.0, 1.0)):
    """Smooth noise of mean 0 and standard deviation 1; `size` in pixels, stretched along x and y."""
    step = max(1, int(min(size * min(stretch), 160) / 4))
    h, w = HEIGHT // step + 2, WIDTH // step + 2
    noise = rng.standard_normal((h, w)).astype(np.float32)
    noise = cv2.GaussianBlur(noise, (0, 0), size * stretch[0] / step / 2, sigmaY=size * stretch[1] / step / 2)
    noise = cv2.resize(noise, (WIDTH, HEIGHT), interpolation=cv2.INTER_CUBIC)
    return (noise - noise.mean()) / noise.std()


def waves(rng, length, bend=0.6):
    """Bent stripes of mean 0 and height 1: folds of cloth, grain of wood; `length` of a wave in pixels."""
    x, y = grid()
    turn = rng.uniform(-0.4, 0.4)
    along = (x * np.cos(turn) + y * np.sin(turn)) * WIDTH / 2
    return np.sin(2 * np.pi * along / length + bend * 4 * clouds(rng, 2.5 * length) + rng.uniform(0, 6)).astype(
        np.float32
    )


def fall_of_light(rng, plane, vignette, blotches):
    """Relative light over the picture, 1 in the middle.

    `plane`: natural logarithm from the middle to the edge; `vignette`: part lost in the corners; `blotches`: standard
    deviation of a smooth remainder.
    """
    x, y = grid()
    turn = rng.uniform(0, 2 * np.pi)
    corner = (x * x + y * y) / (1 + 0.75**2)
    field = np.exp(plane * (x * np.cos(turn) + y * np.sin(turn)) + blotches * clouds(rng, 700)) * (
        1 - vignette * corner
    )
    return (field / field[HEIGHT // 2, WIDTH // 2]).astype(np.float32)


def dapple(rng, share=0.5):
    """Sun through leaves: 1 in the sun, 0 in the shade, soft between."""
    spots = clouds(rng, 130) + 0.5 * clouds(rng, 60)
    return cv2.GaussianBlur((spots > np.quantile(spots, 1 - share)).astype(np.float32), (0, 0), 14)


def shade_edge(rng):
    """One straight soft edge of shade: 1 in the light, 0 in the shade."""
    x, y = grid()
    turn = rng.uniform(0, 2 * np.pi)
    return (1 / (1 + np.exp(-(x * np.cos(turn) + y * np.sin(turn) - rng.uniform(-0.3, 0.3)) / 0.02))).astype(np.float32)
