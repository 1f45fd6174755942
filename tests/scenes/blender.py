"""Run by Blender's own Python: `python blender.py FOLDER` renders FOLDER/job.json and writes FOLDER/places.json."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import bpy
from bpy_extras.object_utils import world_to_camera_view
from mathutils import Vector
from PIL import Image

MM = 0.001
SURFACES = {  # colour, metallic, roughness, strength of the grain
    "paint": ((0.46, 0.49, 0.50), 0.0, 0.42, 0.10), "plastic": ((0.13, 0.14, 0.15), 0.0, 0.5, 0.12),
    "brass": ((0.86, 0.70, 0.38), 1.0, 0.24, 0.35),
    "steel": ((0.62, 0.62, 0.62), 1.0, 0.33, 0.35), "rubber": ((0.03, 0.03, 0.032), 0.0, 0.55, 0.15),
    "copper": ((0.90, 0.45, 0.26), 1.0, 0.25, 0.1), "red": ((0.55, 0.04, 0.03), 0.0, 0.4, 0.0),
    "clip": ((0.80, 0.80, 0.76), 0.0, 0.5, 0.0), "label": ((0.88, 0.88, 0.86), 0.0, 0.5, 0.0),
    "worn": ((0.60, 0.46, 0.24), 1.0, 0.4, 0.4), "bench": ((0.28, 0.27, 0.26), 0.0, 0.8, 0.3),
}  # fmt: skip


def material(name: str) -> bpy.types.Material:
    """A surface with a fine grain, so that it does not look drawn."""
    known = bpy.data.materials.get(name)
    if known:
        return known
    colour, metal, rough, grain = SURFACES[name]
    made = bpy.data.materials.new(name)
    made.use_nodes = True
    tree = made.node_tree
    surface = tree.nodes["Principled BSDF"]
    surface.inputs["Base Color"].default_value = (*colour, 1)
    surface.inputs["Metallic"].default_value = metal
    noise = tree.nodes.new("ShaderNodeTexNoise")
    noise.inputs["Scale"].default_value = 160
    noise.inputs["Detail"].default_value = 8
    spread = tree.nodes.new("ShaderNodeMapRange")
    spread.inputs["To Min"].default_value = max(0.05, rough - grain / 2)
    spread.inputs["To Max"].default_value = min(1.0, rough + grain / 2)
    tree.links.new(noise.outputs["Fac"], spread.inputs["Value"])
    tree.links.new(spread.outputs["Result"], surface.inputs["Roughness"])
    if name == "worn":
        burn(tree, surface)
    return made


def burn(tree: bpy.types.NodeTree, surface: bpy.types.Node) -> None:
    """Black burnt patches of all sizes on what was bright metal."""
    noise = tree.nodes.new("ShaderNodeTexNoise")
    noise.inputs["Scale"].default_value, noise.inputs["Detail"].default_value = 170, 12
    where = tree.nodes.new("ShaderNodeTexCoord")  # in metres, so that patches have one size on every part
    tree.links.new(where.outputs["Object"], noise.inputs["Vector"])
    edge = tree.nodes.new("ShaderNodeValToRGB")
    edge.color_ramp.elements[0].position, edge.color_ramp.elements[1].position = 0.42, 0.56
    edge.color_ramp.elements[0].color = (*SURFACES["worn"][0], 1)
    edge.color_ramp.elements[1].color = (0.015, 0.012, 0.010, 1)
    bright = tree.nodes.new("ShaderNodeMapRange")
    for end, value in (("From Min", 0.42), ("From Max", 0.56), ("To Min", 1.0), ("To Max", 0.0)):
        bright.inputs[end].default_value = value
    rough = tree.nodes.new("ShaderNodeMapRange")
    for end, value in (("From Min", 0.42), ("From Max", 0.56), ("To Min", 0.35), ("To Max", 0.95)):
        rough.inputs[end].default_value = value
    for node, socket in ((edge, "Fac"), (bright, "Value"), (rough, "Value")):
        tree.links.new(noise.outputs["Fac"], node.inputs[socket])
    tree.links.new(edge.outputs["Color"], surface.inputs["Base Color"])
    tree.links.new(bright.outputs["Result"], surface.inputs["Metallic"])
    tree.links.new(rough.outputs["Result"], surface.inputs["Roughness"])


def build(job: dict) -> None:
    """All meshes with soft edges."""
    for row in job["meshes"]:
        mesh = bpy.data.meshes.new(row["name"])
        mesh.from_pydata([[c * MM for c in p] for p in row["points"]], [], row["faces"])
        mesh.materials.append(material(row["look"]))
        thing = bpy.data.objects.new(row["name"], mesh)
        bpy.context.collection.objects.link(thing)
        bpy.context.view_layer.objects.active = thing
        thing.select_set(True)
        bpy.ops.object.mode_set(mode="EDIT")
        bpy.ops.mesh.select_all(action="SELECT")
        bpy.ops.mesh.remove_doubles(threshold=0.00001)
        bpy.ops.object.mode_set(mode="OBJECT")
        bpy.ops.object.shade_smooth_by_angle(angle=0.6)
        edge = thing.modifiers.new("edge", "BEVEL")
        edge.width, edge.segments, edge.limit_method, edge.angle_limit = 0.0004, 2, "ANGLE", 0.6
        thing.select_set(False)


def light(look: Vector, at: tuple[float, float, float], power: float, size: float) -> None:
    """A soft lamp that shines on the middle."""
    lamp = bpy.data.lights.new("lamp", "AREA")
    lamp.energy, lamp.size = power, size
    thing = bpy.data.objects.new("lamp", lamp)
    thing.location = look + Vector(at)
    thing.rotation_euler = (look - thing.location).to_track_quat("-Z", "Y").to_euler()
    bpy.context.collection.objects.link(thing)


def camera(job: dict) -> bpy.types.Object:
    """The camera at the eye."""
    data = bpy.data.cameras.new("camera")
    data.lens, data.clip_start = 50, 0.01
    data.dof.use_dof = True
    eye, look = Vector(job["eye"]) * MM, Vector(job["look"]) * MM
    data.dof.focus_distance, data.dof.aperture_fstop = (eye - look).length, 45
    thing = bpy.data.objects.new("camera", data)
    thing.location = eye
    thing.rotation_euler = (look - eye).to_track_quat("-Z", "Y").to_euler()
    bpy.context.collection.objects.link(thing)
    bpy.context.scene.camera = thing
    return thing


def places(job: dict, seen_from: bpy.types.Object) -> dict[str, list[int]]:
    """Where each named place lies in the picture; what stands before it is told."""
    scene, (wide, high) = bpy.context.scene, job["size"]
    bpy.context.view_layer.update()
    graph = bpy.context.evaluated_depsgraph_get()
    found = {}
    for name, point in job["places"].items():
        goal = Vector(point) * MM
        way = goal - seen_from.location
        hit, where, _, _, thing, _ = scene.ray_cast(graph, seen_from.location, way.normalized())
        if hit and (where - goal).length > 0.006:
            raise SystemExit(
                f"{name} is hidden by {thing.name} ({(where - goal).length / MM:.1f} mm before it)"
            )
        x, y, _ = world_to_camera_view(scene, seen_from, where if hit else goal)
        found[name] = [round(x * wide), round((1 - y) * high)]
    return found


def main(folder: Path) -> None:
    """Render and write the places."""
    job = json.loads((folder / "job.json").read_text())
    bpy.ops.wm.read_factory_settings(use_empty=True)
    scene = bpy.context.scene
    build(job)
    eye = camera(job)
    look = Vector(job["look"]) * MM
    toward = (Vector(job["eye"]) * MM - look).normalized()
    side = toward.cross(Vector((0, 0, 1))).normalized()
    light(look, tuple(toward * 0.35 + side * 0.35 + Vector((0, 0, 0.4))), 7, 0.25)
    light(look, tuple(toward * 0.3 - side * 0.5 + Vector((0, 0, 0.2))), 2.5, 0.5)
    light(look, tuple(-toward * 0.3 + side * 0.2 + Vector((0, 0, 0.5))), 4, 0.2)
    world = bpy.data.worlds.new("world")
    world.use_nodes = True
    world.node_tree.nodes["Background"].inputs[0].default_value = (0.5, 0.53, 0.56, 1)
    world.node_tree.nodes["Background"].inputs[1].default_value = 0.35
    scene.world = world
    scene.render.engine = "CYCLES"
    scene.cycles.samples, scene.cycles.use_denoising = 24, True
    scene.cycles.seed = 7
    scene.render.resolution_x, scene.render.resolution_y = job["size"]
    scene.view_settings.look = "AgX - Medium High Contrast"
    scene.render.filepath = str(folder / "out.png")
    where = places(job, eye)
    bpy.ops.render.render(write_still=True)
    with Image.open(folder / "out.png") as picture:
        picture.convert("RGB").save(job["target"], quality=84, optimize=True)
    (folder / "places.json").write_text(json.dumps(where))


main(Path(sys.argv[1]))
